using System.Buffers;
using System.Text;
using System.Text.Encodings.Web;
using System.Text.Json;
using DeflectScan.Teaching;

namespace DeflectScan.Reporting.Json;

/// <summary>A class as one document, schema <c>deflectscan.class/1</c>: what the board shows, and each rod's measurement document as it is by itself.</summary>
public static class ClassJson
{
    public const string Schema = "deflectscan.class/1";

    public static string Write(ClassReport report)
    {
        ArrayBufferWriter<byte> buffer = new(1 << 20);
        JsonWriterOptions options = new() { Indented = true, NewLine = "\n", Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping };
        using (Utf8JsonWriter json = new(buffer, options))
        {
            json.WriteStartObject();
            json.WriteString("schema", Schema);
            json.WriteString("title", report.Options.Title);
            json.WriteBoolean("names_hidden", report.Options.HideNames);
            json.WriteString("target", report.Options.TargetIsBest ? "best" : report.Options.TargetBowMm is null ? null : "bow");
            Number(json, "target_bow_mm", report.Options.TargetIsBest ? null : report.Options.TargetBowMm, MeasurementJson.LengthDecimals);
            json.WriteStartArray("stands_out");
            foreach (string sentence in report.StandsOut)
                json.WriteStringValue(sentence);
            json.WriteEndArray();
            if (report.Mean is { } mean)
                Mean(json, mean);
            json.WriteStartArray("rods");
            foreach (ClassRod rod in report.Rods)
                Rod(json, rod, report.Options.HideNames);
            json.WriteEndArray();
            if (report.Reference is { } reference)
            {
                json.WritePropertyName("reference");
                Rod(json, reference, report.Options.HideNames);
            }

            json.WriteEndObject();
        }

        return Encoding.UTF8.GetString(buffer.WrittenSpan) + "\n";
    }

    private static void Rod(Utf8JsonWriter json, ClassRod rod, bool hideNames)
    {
        json.WriteStartObject();
        json.WriteString("student", rod.Name);
        if (!hideNames)
            json.WriteString("photo", rod.Photo.File);
        json.WriteNumber("tries", rod.Photo.Tries);
        json.WriteString("standing", rod.StandingText);
        json.WriteString("why", rod.Why);
        Figure(json, "running_bow", rod.Bow);
        Figure(json, "running_gap", rod.Gap);
        Figure(json, "running_clearance", rod.Clearance);
        Number(json, "best_bow_mm", rod.BestBowMm, MeasurementJson.LengthDecimals);
        Number(json, "target_mm", rod.TargetMm, MeasurementJson.LengthDecimals);
        if (rod.KeepsTarget is { } kept)
            json.WriteBoolean("keeps_target", kept);
        json.WritePropertyName("measurement");
        if (rod.Photo.Measurement is { } m)
            json.WriteRawValue(MeasurementJson.Write(hideNames && m.Photo is { } photo ? m with { Photo = photo with { FileName = rod.Name } } : m).TrimEnd());
        else
            json.WriteNullValue();
        json.WriteEndObject();
    }

    private static void Figure(Utf8JsonWriter json, string name, RodFigure? figure)
    {
        if (figure is null)
            return;
        json.WriteStartObject(name);
        json.WriteNumber("from", figure.From);
        json.WriteNumber("to", figure.To);
        Number(json, "mm", figure.Mm, MeasurementJson.LengthDecimals);
        Number(json, "uncertainty_mm", figure.UncertaintyMm, MeasurementJson.LengthDecimals);
        json.WriteEndObject();
    }

    private static void Mean(Utf8JsonWriter json, MeanLayout mean)
    {
        json.WriteStartObject("mean_layout");
        json.WriteNumber("guides", mean.Guides);
        json.WriteNumber("rods", mean.Rods);
        json.WriteStartArray("stations");
        for (int i = 0; i < mean.StationsMm.Count; i++)
        {
            json.WriteStartObject();
            Number(json, "station_mm", mean.StationsMm[i], MeasurementJson.LengthDecimals);
            Number(json, "spread_mm", mean.SpreadsMm[i], MeasurementJson.LengthDecimals);
            json.WriteEndObject();
        }

        json.WriteEndArray();
        json.WriteEndObject();
    }

    private static void Number(Utf8JsonWriter json, string name, double? value, int decimals)
    {
        if (value is { } v)
            json.WriteNumber(name, Math.Round(v, decimals));
        else
            json.WriteNull(name);
    }
}
