using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Serialization;
using DeflectScan.Geometry;

namespace DeflectScan.Reporting.Json;

/// <summary>
/// What the layout desk's commands print with --json: one object whose member names are the figures' own names in snake case, with their units.
/// Numbers have 4 decimals at most; a point is [x, y].
/// </summary>
public static class DeskJson
{
    private static readonly JsonSerializerOptions Options = new()
    {
        PropertyNamingPolicy = JsonNamingPolicy.SnakeCaseLower,
        WriteIndented = true,
        NewLine = "\n",
        Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
        Converters = { new JsonStringEnumConverter(JsonNamingPolicy.SnakeCaseLower), new RoundedNumber(), new PointAsList() },
    };

    /// <summary>The text of a report, its last line ended.</summary>
    /// <param name="schema">Name and number of its form.</param>
    /// <param name="report">Its members follow the schema.</param>
    /// <exception cref="ArgumentException">A figure is not a number: such a report must not be given to anyone.</exception>
    public static string Write(string schema, object report)
    {
        using JsonDocument body = JsonSerializer.SerializeToDocument(report, Options);
        Dictionary<string, object> whole = new(StringComparer.Ordinal) { ["schema"] = schema };
        foreach (JsonProperty member in body.RootElement.EnumerateObject())
            whole[member.Name] = member.Value;
        return JsonSerializer.Serialize(whole, Options) + "\n";
    }

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
