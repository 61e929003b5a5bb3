using System.Text;
using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Serialization;
using System.Text.Json.Serialization.Metadata;
using DeflectScan.Bending;
using DeflectScan.Desk;
using DeflectScan.Geometry;
using DeflectScan.Layout.OnRings;
using DeflectScan.Layout.Spacing;
using DeflectScan.Layout.Start;
using DeflectScan.Reporting.Sheets;

namespace DeflectScan.Reporting.Json;

/// <summary>
/// What the layout desk's commands print with --json: one object whose member names are the figures' own names in snake case, with their units.
/// Numbers have 4 decimals at most; a point is [x, y]. A figure that is not a number throws an <see cref="ArgumentException"/>: such a report must
/// not be given to anyone.
/// </summary>
public static class DeskJson
{
    private static readonly JsonSerializerOptions Options = new()
    {
        PropertyNamingPolicy = JsonNamingPolicy.SnakeCaseLower,
        Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
        Converters =
        {
            Words<SpacingGoal>(), Words<LineMotion>(), Words<CarryMethod>(), Words<RodKind>(), Words<LineKind>(), Words<GuideRole>(), Words<Grounds>(),
            new RoundedNumber(), new PointAsList(),
        },
    };

    /// <summary>Code that writes each report, made by the compiler: a program compiled ahead of time has no other.</summary>
    internal static DeskJsonTypes Types { get; } = new(Options);

    /// <summary>Schema <c>deflectscan.plan/1</c>; the text's last line is ended, as in all of these.</summary>
    public static string Write(PlanReport report) => Write("deflectscan.plan/1", report, Types.PlanReport);

    /// <summary>Schema <c>deflectscan.testcast/1</c>.</summary>
    public static string Write(TestCastReport report) => Write("deflectscan.testcast/1", report, Types.TestCastReport);

    /// <summary>Schema <c>deflectscan.carry/1</c>.</summary>
    public static string Write(CarryReport report) => Write("deflectscan.carry/1", report, Types.CarryReport);

    /// <summary>Schema <c>deflectscan.spacing/1</c>.</summary>
    public static string Write(SpacingReport report) => Write("deflectscan.spacing/1", report, Types.SpacingReport);

    /// <summary>Schema <c>deflectscan.whatif/1</c>.</summary>
    public static string Write(WhatIfReport report) => Write("deflectscan.whatif/1", report, Types.WhatIfReport);

    /// <summary>Schema <c>deflectscan.rings/1</c>.</summary>
    public static string Write(RingsReport report) => Write("deflectscan.rings/1", report, Types.RingsReport);

    /// <summary>Schema <c>deflectscan.bend/1</c>.</summary>
    public static string Write(BendReport report) => Write("deflectscan.bend/1", report, Types.BendReport);

    /// <summary>Schema <c>deflectscan.blank/1</c>.</summary>
    public static string Write(BlanksReport report) => Write("deflectscan.blank/1", report, Types.BlanksReport);

    internal static string Write(SheetLayout layout) => Write(LayoutJson.Schema, layout, Types.SheetLayout);

    internal static string Write(CastNotesMembers notes) => Write(CastNotesJson.Schema, notes, Types.CastNotesMembers);

    private static string Write<T>(string schema, T report, JsonTypeInfo<T> type)
    {
        using JsonDocument body = JsonSerializer.SerializeToDocument(report, type);
        using MemoryStream text = new();
        using (Utf8JsonWriter writer = new(text, new JsonWriterOptions { Indented = true, NewLine = "\n", Encoder = Options.Encoder }))
        {
            writer.WriteStartObject();
            writer.WriteString("schema", schema);
            foreach (JsonProperty member in body.RootElement.EnumerateObject())
                member.WriteTo(writer);
            writer.WriteEndObject();
        }

        return Encoding.UTF8.GetString(text.GetBuffer(), 0, (int)text.Length) + "\n";
    }

    private static JsonStringEnumConverter<T> Words<T>()
        where T : struct, Enum => new(JsonNamingPolicy.SnakeCaseLower);

    private sealed class RoundedNumber : JsonConverter<double>
    {
        public override double Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options) => reader.GetDouble();

        public override void Write(Utf8JsonWriter writer, double value, JsonSerializerOptions options)
        {
            if (!double.IsFinite(value))
                throw new ArgumentException("A figure of the report is not a number.");
            double rounded = Math.Round(value, MeasurementJson.LengthDecimals);
            writer.WriteNumberValue(rounded == 0 ? 0 : rounded);
        }
    }

    private sealed class PointAsList : JsonConverter<Vec2>
    {
        public override Vec2 Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options) => throw new NotSupportedException("Reports are only written.");

        public override void Write(Utf8JsonWriter writer, Vec2 value, JsonSerializerOptions options)
        {
            writer.WriteStartArray();
            writer.WriteNumberValue(Math.Round(value.X, 2));
            writer.WriteNumberValue(Math.Round(value.Y, 2));
            writer.WriteEndArray();
        }
    }
}

/// <summary>The reports that <see cref="DeskJson"/> writes.</summary>
[JsonSourceGenerationOptions(GenerationMode = JsonSourceGenerationMode.Metadata)]
[JsonSerializable(typeof(PlanReport))]
[JsonSerializable(typeof(TestCastReport))]
[JsonSerializable(typeof(CarryReport))]
[JsonSerializable(typeof(SpacingReport))]
[JsonSerializable(typeof(WhatIfReport))]
[JsonSerializable(typeof(RingsReport))]
[JsonSerializable(typeof(BendReport))]
[JsonSerializable(typeof(BlanksReport))]
[JsonSerializable(typeof(SheetLayout))]
[JsonSerializable(typeof(CastNotesMembers))]
internal sealed partial class DeskJsonTypes : JsonSerializerContext;
