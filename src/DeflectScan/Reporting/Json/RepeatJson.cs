using System.Text;
using System.Text.Encodings.Web;
using System.Text.Json;
using DeflectScan.Repeating;

namespace DeflectScan.Reporting.Json;

/// <summary>What <c>deflectscan measure A B C --repeat</c> says, schema <c>deflectscan.repeat/1</c>: one JSON object in UTF-8.</summary>
public static class RepeatJson
{
    public const string Schema = "deflectscan.repeat/1";

    public static string Write(RepeatReport report)
    {
        using MemoryStream buffer = new();
        JsonWriterOptions options = new() { Indented = true, NewLine = "\n", Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping };
        using (Utf8JsonWriter json = new(buffer, options))
            Write(json, report);
        return Encoding.UTF8.GetString(buffer.ToArray()) + "\n";
    }

    private static void Write(Utf8JsonWriter json, RepeatReport report)
    {
        json.WriteStartObject();
        json.WriteString("schema", Schema);
        json.WriteString("status", MeasurementJson.Spell(report.Status));
        json.WriteStartArray("photos");
        foreach (RepeatedPhoto photo in report.Photos)
        {
            json.WriteStartObject();
            json.WriteString("file", photo.File);
            json.WriteString("status", MeasurementJson.Spell(photo.Status));
            json.WriteBoolean("used", photo.Used);
            json.WriteString("why", photo.Why.Length > 0 ? photo.Why : null);
            json.WriteEndObject();
        }

        json.WriteEndArray();
        json.WriteString("overlay_of", report.Typical is { } shown ? report.Photos[shown].File : null);
        json.WriteStartArray("figures");
        foreach (RepeatedFigure f in report.Figures)
        {
            json.WriteStartObject();
            json.WriteString("name", f.Name);
            json.WriteNumber("from", f.From);
            if (f.To is { } to)
                json.WriteNumber("to", to);
            Number(json, "value_mm", f.ValueMm);
            Number(json, "uncertainty_mm", f.UncertaintyMm);
            Number(json, "spread_mm", f.SpreadMm);
            Number(json, "stated_mm", f.StatedMm);
            json.WriteNumber("photos", f.Photos);
            json.WriteEndObject();
        }

        json.WriteEndArray();
        Number(json, "spread_over_stated", report.SpreadOverStated);
        json.WriteStartArray("notes");
        foreach (string note in report.Notes)
            json.WriteStringValue(note);
        json.WriteEndArray();
        json.WriteEndObject();
    }

    private static void Number(Utf8JsonWriter json, string name, double? value)
    {
        if (value is { } v)
            json.WriteNumber(name, Math.Round(v, MeasurementJson.LengthDecimals));
        else
            json.WriteNull(name);
    }
}
