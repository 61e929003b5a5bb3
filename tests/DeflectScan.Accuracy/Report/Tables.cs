using DeflectScan.Accuracy.Compare;

namespace DeflectScan.Accuracy.Report;

/// <summary>Plain text tables.</summary>
internal static class Tables
{
    public static void Print(TextWriter to, IReadOnlyList<PhotoComparison> photos)
    {
        List<string[]> rows = [["photo", "status", "right", "guides", "miss/false", "axis med/95 px", "span %", "gap med/95/max mm", "bow 95", "station 95", "ring med px", "largest", "s", "codes"]];
        foreach (PhotoComparison p in photos)
        {
            Spread axis = Spread.Of(p.AxisPx);
            Spread gap = Spread.Of(p.Gaps.Select(e => e.Error));
            rows.Add(
            [
                p.Name, $"{p.Status}", p.StatusRight ? "yes" : "NO", $"{p.Guides.MeasuredOf.Count}", $"{p.Guides.Missed.Count}/{p.Guides.False.Count}",
                $"{axis.Median:0.00}/{axis.P95:0.00}", $"{100 * p.AxisSpan:0}", $"{gap.Median:0.00}/{gap.P95:0.00}/{gap.Max:0.00}", $"{Spread.Of(p.Bows.Select(e => e.Error)).P95:0.00}",
                $"{Spread.Of(p.Stations.Select(e => e.Error)).P95:0.0}", $"{Spread.Of(p.RingPx).Median:0.00}", $"{Mark(p.LargestGapRight)}{Mark(p.LargestBowRight)}", $"{p.Seconds:0.0}", string.Join(' ', p.Codes),
            ]);
        }

        Print(to, rows);
        foreach (PhotoComparison p in photos.Where(p => p.Status == MeasurementStatus.Ok))
        {
            foreach (string wrong in p.Wrong)
                to.WriteLine($"WRONG UNDER OK  {p.Name}: {wrong}");
        }
    }

    public static void Print(TextWriter to, IReadOnlyList<SummaryLine> lines) =>
        Print(to, [["figure", "measured", "bar", "aim", "met"], .. lines.Select(l => new[] { l.Figure, l.Value, l.Bar, l.Aim, l.Met is null ? "" : l.Met == true ? "yes" : "NO" })]);

    public static void Print(TextWriter to, IReadOnlyList<string[]> rows)
    {
        int[] widths = [.. Enumerable.Range(0, rows[0].Length).Select(c => rows.Max(r => r[c].Length))];
        foreach (string[] row in rows)
            to.WriteLine(string.Join("  ", row.Select((cell, c) => cell.PadRight(widths[c]))).TrimEnd());
        to.WriteLine();
    }

    private static string Mark(bool? right) => right switch { true => "+", false => "-", null => "." };
}
