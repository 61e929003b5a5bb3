using DeflectScan.Records.Finding;
using DeflectScan.Records.Model;
using DeflectScan.Reporting.Csv;

namespace DeflectScan.Records.Reports;

/// <summary>All builds with all their tests as one CSV table (RFC 4180), a line a test; a build without a test has a line of its own.</summary>
public static class AllCsv
{
    private static readonly string[] Head =
    [
        "build_id", "name", "owner", "blank", "blank_length_mm", "reel_class", "line", "side", "use", "test_id", "label", "made_at", "status", "set_aside", "guides", "traced_length_mm", "tip_turn_deg",
        "worst_from", "worst_to", "worst_by", "worst_mm", "worst_uncertainty_mm", "largest_gap_mm", "largest_gap_uncertainty_mm", "largest_bow_mm", "largest_bow_uncertainty_mm", "program_version",
    ];

    /// <summary>The file's bytes.</summary>
    /// <param name="reader">The archive.</param>
    /// <param name="query">Which builds, in which order.</param>
    public static byte[] Write(ArchiveReader reader, ListQuery query)
    {
        using MemoryStream stream = new();
        using (CsvWriter csv = new(stream))
        {
            csv.Line(Head);
            for (int page = 1; reader.List(page, 100, query) is { Count: > 0 } builds; page++)
            {
                foreach (BuildSummary b in builds)
                {
                    object?[] build = [b.Id, b.Name, b.Owner, b.Blank, b.BlankLengthMm, b.ReelClass, b.Line, b.Side, b.Use];
                    IReadOnlyList<StoredMeasurement> tests = reader.Build(b.Id)!.Measurements;
                    foreach (StoredMeasurement? t in tests.Count == 0 ? [null] : tests.Cast<StoredMeasurement?>())
                        csv.Line([.. build, .. Test(t)]);
                }
            }
        }

        return stream.ToArray();
    }

    private static object?[] Test(StoredMeasurement? t) =>
    [
        t?.Id, t?.Label, t is null ? null : RowsOf.Time(t.MadeAt), t is null ? null : t.Status == MeasurementStatus.Ok ? "ok" : "needs_review", t?.IsSetAside, t?.GuideCount, t?.TracedLengthMm, t?.TipTurnDeg,
        t?.Worst?.From, t?.Worst?.To, t?.Worst?.By, t?.Worst?.Mm, t?.Worst?.UncertaintyMm, t?.LargestGapMm, t?.LargestGapUncertaintyMm, t?.LargestBowMm, t?.LargestBowUncertaintyMm, t?.ProgramVersion,
    ];
}
