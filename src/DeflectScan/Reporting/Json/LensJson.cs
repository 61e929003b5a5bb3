using System.Text;
using System.Text.Encodings.Web;
using System.Text.Json;
using DeflectScan.Calibration.Lens;

namespace DeflectScan.Reporting.Json;

/// <summary>What <c>deflectscan lens</c> says of a calibration, schema <c>deflectscan.lens-report/1</c>: one JSON object in UTF-8.</summary>
public static class LensJson
{
    public const string Schema = "deflectscan.lens-report/1";

    private static readonly string[] Parameters = ["focal_px", "principal_x_px", "principal_y_px", "k1", "k2", "p1", "p2", "k3"];

    public static string Write(LensCalibration lens)
    {
        using MemoryStream buffer = new();
        JsonWriterOptions options = new() { Indented = true, NewLine = "\n", Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping };
        using (Utf8JsonWriter json = new(buffer, options))
            Write(json, lens);
        return Encoding.UTF8.GetString(buffer.ToArray()) + "\n";
    }

    private static void Write(Utf8JsonWriter json, LensCalibration lens)
    {
        double[] values = [lens.Profile.FocalPx, lens.Profile.PrincipalXPx, lens.Profile.PrincipalYPx, .. lens.Profile.Distortion];
        json.WriteStartObject();
        json.WriteString("schema", Schema);
        json.WriteString("name", lens.Profile.Name);
        json.WriteNumber("width_px", lens.Profile.WidthPx);
        json.WriteNumber("height_px", lens.Profile.HeightPx);
        json.WriteStartArray("parameters");
        for (int i = 0; i < values.Length; i++)
        {
            json.WriteStartObject();
            json.WriteString("name", Parameters[i]);
            json.WriteNumber("value", Math.Round(values[i], 8));
            json.WriteNumber("uncertainty", Math.Round(2 * lens.Sd[i], 8));
            json.WriteEndObject();
        }

        json.WriteEndArray();
        json.WriteNumber("rms_px", Math.Round(lens.Profile.RmsPx, 6));
        json.WriteNumber("coverage_percent", Math.Round(100 * lens.Coverage, 2));
        json.WriteNumber("outermost_percent", Math.Round(100 * lens.OutermostShare, 2));
        json.WriteNumber("turn_deg", Math.Round(lens.TurnDeg, 2));
        json.WriteStartArray("views");
        foreach (ViewReport view in lens.Views)
        {
            json.WriteStartObject();
            json.WriteString("photo", view.Photo);
            json.WriteNumber("corners", view.Corners);
            json.WriteNumber("rms_px", Math.Round(view.RmsPx, 6));
            json.WriteNumber("tilt_deg", Math.Round(view.TiltDeg, 2));
            json.WriteNumber("distance_mm", Math.Round(view.DistanceMm, 1));
            json.WriteEndObject();
        }

        json.WriteEndArray();
        json.WriteStartArray("warnings");
        foreach (string warning in lens.Warnings)
            json.WriteStringValue(warning);
        json.WriteEndArray();
        json.WriteEndObject();
    }
}
