using System.Text;
using System.Text.Encodings.Web;
using System.Text.Json;
using DeflectScan.Checking;
using DeflectScan.Findings;

namespace DeflectScan.Reporting.Json;

/// <summary>What <c>deflectscan check</c> says, schema <c>deflectscan.check/1</c>: one JSON object in UTF-8.</summary>
public static class CheckJson
{
    public const string Schema = "deflectscan.check/1";

    public static string Write(CheckReport report)
    {
        using MemoryStream buffer = new();
        JsonWriterOptions options = new() { Indented = true, NewLine = "\n", Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping };
        using (Utf8JsonWriter json = new(buffer, options))
            Write(json, report);
        return Encoding.UTF8.GetString(buffer.ToArray()) + "\n";
    }

    private static void Write(Utf8JsonWriter json, CheckReport report)
    {
        json.WriteStartObject();
        json.WriteString("schema", Schema);
        json.WriteString("photo", report.Photo?.FileName);
        json.WriteString("verdict", MeasurementJson.Spell(report.Verdict));
        json.WriteStartArray("items");
        foreach (CheckItem item in report.Items)
        {
            json.WriteStartObject();
            json.WriteString("name", item.Name);
            json.WriteString("verdict", MeasurementJson.Spell(item.Verdict));
            json.WriteString("code", item.Code is { } code ? Finding.Spell(code) : null);
            json.WriteString("seen", item.Seen);
            json.WriteString("do", item.Do.Length > 0 ? item.Do : null);
            if (item.Value is { } value && double.IsFinite(value))
                json.WriteNumber("value", Math.Round(value, MeasurementJson.LengthDecimals));
            else
                json.WriteNull("value");
            json.WriteString("unit", item.Unit);
            json.WriteEndObject();
        }

        json.WriteEndArray();
        json.WriteEndObject();
    }
}
