using DeflectScan.Teaching;

namespace DeflectScan.Reporting.Csv;

/// <summary>A class as one table (RFC 4180), a line a student in the board's order.</summary>
public static class ClassCsv
{
    /// <summary>The file's bytes: UTF-8, CRLF, the first line names the columns; lengths in mm.</summary>
    public static byte[] Write(ClassReport report)
    {
        using MemoryStream stream = new();
        using (CsvWriter csv = new(stream))
        {
            csv.Line(
            [
                "student", "photo", "tries", "standing", "running_bow_mm", "running_bow_uncertainty_mm", "running_gap_mm", "running_gap_uncertainty_mm", "running_clearance_mm", "best_bow_mm",
                "over_best", "target_mm", "keeps_target", .. MeasurementColumns.Head,
            ]);
            foreach (ClassRod r in report.Rods)
            {
                csv.Line(
                [
                    r.Name, report.Options.HideNames ? null : r.Photo.File, r.Photo.Tries, r.StandingText, r.Bow?.Mm, r.Bow?.UncertaintyMm, r.Gap?.Mm, r.Gap?.UncertaintyMm, r.Clearance?.Mm,
                    Round(r.BestBowMm, 4), Round(r.OverBest, 3), Round(r.TargetMm, 4), r.KeepsTarget, .. MeasurementColumns.Of(r.Photo.Measurement, r.Why),
                ]);
            }
        }

        return stream.ToArray();
    }

    private static double? Round(double? value, int decimals) => value is { } v ? Math.Round(v, decimals) : null;
}
