using System.Diagnostics;
using DeflectScan.Accuracy.Compare;

namespace DeflectScan.Accuracy.Report;

/// <summary>One line of the table: what it is, what came out, the bar, the aim, and whether the bar is met (null: nothing is asked).</summary>
public sealed record SummaryLine(string Figure, string Value, string Bar, string Aim, bool? Met);

/// <summary>The table over all photos. Errors are taken over the good photos that gave figures, whatever their status: a review does not hide an error.</summary>
public static class Summary
{
    public static IReadOnlyList<SummaryLine> Of(IReadOnlyList<PhotoComparison> photos)
    {
        PhotoComparison[] good = [.. photos.Where(p => p.ExpectsOk)];
        PhotoComparison[] bad = [.. photos.Where(p => !p.ExpectsOk)];
        Spread axis = Spread.Of(good.SelectMany(p => p.AxisPx));
        Spread diameter = Spread.Of(good.SelectMany(p => p.DiameterMm));
        Spread gap = Spread.Of(good.SelectMany(p => p.Gaps).Select(e => e.Error));
        Spread bow = Spread.Of(good.SelectMany(p => p.Bows).Select(e => e.Error));
        Spread station = Spread.Of(good.Where(p => p.CardsTrue > 1).SelectMany(p => p.Stations).Select(e => e.Error));
        Spread share = Spread.Of(good.Where(p => p.CardsTrue == 1).SelectMany(p => p.Stations).Select(e => e.Size / (3 + (0.01 * e.FromTipMm))));
        Spread ring = Spread.Of(good.SelectMany(p => p.RingPx));
        int measured = good.Count(p => p.StatusRight);
        int missed = good.Sum(p => p.Guides.Missed.Count);
        int spurious = good.Sum(p => p.Guides.False.Count);
        int gapRight = good.Count(p => p.LargestGapRight == true);
        int bowRight = good.Count(p => p.LargestBowRight == true);
        int refused = bad.Count(p => p.StatusRight);
        int wrongUnderOk = photos.Count(p => p.Status == MeasurementStatus.Ok && (p.Wrong.Count > 0 || !p.ExpectsOk));
        return
        [
            new("good photos measured, status ok", $"{measured} of {good.Length}", "all", "all", measured == good.Length),
            new("guides missed / false", $"{missed} / {spurious}", "0 / 0", "0 / 0", missed == 0 && spurious == 0),
            new("axis, perpendicular, median / 95 % (px)", Both(axis, "0.00"), "0.35 / 1.0", "0.1 / 0.4", axis.Median <= 0.35 && axis.P95 <= 1),
            new("axis, span of the bare blank, least (%)", good.Length == 0 ? "-" : $"{100 * good.Min(p => p.AxisSpan):0}", "", "", null),
            new("blank diameter, 95 % (mm)", One(diameter.P95), "0.5", "0.2", diameter.P95 <= 0.5),
            new("gap, median / 95 % / largest (mm)", $"{Both(gap, "0.00")} / {One(gap.Max)}", "0.3 / 1.0 / 2.0", "0.08 / 0.25", gap.Median <= 0.3 && gap.P95 <= 1 && gap.Max <= 2),
            new("bow, 95 % (mm)", One(bow.P95), "0.6", "0.15", bow.P95 <= 0.6),
            new("station, two or more cards, median / 95 % (mm)", Both(station, "0.0"), "1.5 / 4", "0.5 / 1.5", station.Median <= 1.5 && station.P95 <= 4),
            new("station, one card, 95 % (of 1 % from tip + 3 mm)", One(share.P95), "1", "", share.Count == 0 ? null : share.P95 <= 1),
            new("ring contact, median (px)", One(ring.Median), "1.5", "0.5", ring.Median <= 1.5),
            new("pair with the largest gap / bow right", $"{gapRight} / {bowRight} of {good.Length}", "all", "all", gapRight == good.Length && bowRight == good.Length),
            new("bad photos refused or in review, right code", $"{refused} of {bad.Length}", "all", "all", refused == bad.Length),
            new("wrong figures under ok (photos)", $"{wrongUnderOk}", "0", "0", wrongUnderOk == 0),
            new("inside the stated 95 %: gap / bow / station", $"{Covered(good, p => p.Gaps)} / {Covered(good, p => p.Bows)} / {Covered(good, p => p.Stations)}", "", "95 %", null),
            .. Times(photos),
        ];
    }

    private static IEnumerable<SummaryLine> Times(IReadOnlyList<PhotoComparison> photos)
    {
        PhotoComparison[] timed = [.. photos.Where(p => p.Seconds > 0)];
        if (timed.Length == 0)
            yield break;
        Spread all = Spread.Of(timed.Select(p => p.Seconds));
        yield return new("seconds a photo, median / 95 %", Both(all, "0.00"), "2.5 (12 MP, idle)", "0.8", null);
        yield return new("peak memory of this process (MB)", $"{PeakMegabytes():0}", "600 (one 12 MP photo)", "", null);
        foreach (IGrouping<string, StageTime> stage in timed.SelectMany(p => p.Stages ?? []).GroupBy(s => s.Stage, StringComparer.Ordinal))
            yield return new($"  {stage.Key}, median (ms)", $"{Spread.Of(stage.Select(s => s.Milliseconds)).Median:0}", "", "", null);
    }

    /// <summary>Largest resident memory so far, MB; of one photo only when just one was measured.</summary>
    internal static double PeakMegabytes()
    {
        using Process self = Process.GetCurrentProcess();
        return self.PeakWorkingSet64 / 1e6;
    }

    private static string Covered(PhotoComparison[] good, Func<PhotoComparison, IReadOnlyList<FigureError>> figures)
    {
        FigureError[] all = [.. good.SelectMany(figures)];
        return all.Length == 0 ? "-" : $"{100.0 * all.Count(e => e.IsCovered) / all.Length:0.0} %";
    }

    private static string Both(Spread s, string format) => s.Count == 0 ? "-" : $"{s.Median.ToString(format)} / {s.P95.ToString(format)}";

    private static string One(double v) => double.IsNaN(v) ? "-" : $"{v:0.00}";
}
