using DeflectScan.Findings;
using DeflectScan.Layout;
using DeflectScan.Tracing;

namespace DeflectScan;

/// <summary>
/// Which figures of a measurement stand where its recognition is in doubt. A doubt with a place on the blank (a guide that may stand there or be none)
/// holds back the pairs that it lies in; a doubt without one, of the count or the side, all of them.
/// </summary>
public static class MeasurementDoubts
{
    /// <summary>A place so near a ring, mm, is of both its pairs: guides stand no nearer to each other (common practice, no source).</summary>
    private const double ReachMm = 12;

    /// <summary>Which side of the bend the guides stand on is in doubt.</summary>
    public static bool SideInDoubt(this Measurement m) => m.Findings.Any(f => f is { Severity: Severity.Review, IsOfSide: true });

    /// <summary>Guides may be missing, or be none, anywhere: no figure of theirs stands in a headline.</summary>
    public static bool AllInDoubt(this Measurement m) => m.SideInDoubt() || OfGuides(m).Any(f => f.Places.Count == 0);

    /// <summary>Whether a pair's figures are held back from headlines and lists.</summary>
    public static bool InDoubt(this Measurement m, IntervalReport pair)
    {
        if (m.AllInDoubt())
            return true;
        (double near, double far) = (Station(m, pair.To) - ReachMm, Station(m, pair.From) + ReachMm);
        return OfGuides(m).SelectMany(f => f.Places).Any(p => p.ToMm >= near && p.FromMm <= far);
    }

    /// <summary>The pairs whose figures stand.</summary>
    public static IReadOnlyList<IntervalReport> SurePairs(this Measurement m) => [.. m.Intervals.Where(p => !m.InDoubt(p))];

    /// <summary>Of the running pairs that are not in doubt the one that follows worst; null where there is none.</summary>
    public static IntervalReport? SureWorst(this Measurement m)
    {
        if (m.FollowsWorst is not { } worst || m.Side is not { } side)
            return null;
        if (!m.InDoubt(worst))
            return worst;
        int reduction = m.Running?.ReductionGuides ?? RunningReport.Of(m.Intervals, side, null).ReductionGuides;
        IEnumerable<IntervalReport> sure = m.Intervals.Skip(Math.Min(reduction, m.Intervals.Count) - 1).Where(p => !m.InDoubt(p));
        return side == BendSide.Outside ? sure.MinBy(p => p.ClearanceMm) : sure.MaxBy(p => p.BowMm);
    }

    private static IEnumerable<Finding> OfGuides(Measurement m) => m.Findings.Where(f => f is { Code: FindingCode.GuidesUncertain, Severity: Severity.Review });

    private static double Station(Measurement m, int guide) => m.Guides.FirstOrDefault(g => g.Index == guide)?.StationMm ?? 0;
}
