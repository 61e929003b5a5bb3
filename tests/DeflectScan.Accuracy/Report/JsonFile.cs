using System.Text.Json;
using System.Text.Json.Serialization;
using DeflectScan.Accuracy.Compare;

namespace DeflectScan.Accuracy.Report;

/// <summary>The same tables for a machine.</summary>
internal static class JsonFile
{
    private static readonly JsonSerializerOptions Options = new()
    {
        PropertyNamingPolicy = JsonNamingPolicy.SnakeCaseLower,
        NumberHandling = JsonNumberHandling.AllowNamedFloatingPointLiterals,
        WriteIndented = true,
        Converters = { new JsonStringEnumConverter(JsonNamingPolicy.SnakeCaseLower) },
    };

    public static void Write(FileInfo file, IReadOnlyList<PhotoComparison> photos, IReadOnlyList<SummaryLine> summary) =>
        File.WriteAllText(file.FullName, JsonSerializer.Serialize(
            new
            {
                peak_mb = Summary.PeakMegabytes(),
                summary,
                photos = photos.Select(p => new
                {
                    p.Name,
                    p.ExpectsOk,
                    p.Status,
                    p.StatusRight,
                    p.Codes,
                    guides_found = p.Guides.MeasuredOf.Count,
                    p.Guides.Missed,
                    p.Guides.False,
                    axis_px = Spread.Of(p.AxisPx),
                    p.AxisSpan,
                    diameter_mm = Spread.Of(p.DiameterMm),
                    p.Gaps,
                    p.Bows,
                    p.Stations,
                    p.RingPx,
                    p.LargestGapRight,
                    p.LargestBowRight,
                    p.Wrong,
                    p.Seconds,
                    p.Stages,
                }),
            },
            Options));
}
