using DeflectScan.Records.Model;

namespace DeflectScan.Records.Comparing;

/// <summary>One measurement in a build's series, with the change against the one before it; null where there is none before.</summary>
public sealed record HistoryStep(StoredMeasurement Measurement, Change? Gap, Change? Bow, double? TurnByDeg)
{
    /// <summary>The running pair that follows worst; null where the documents were not asked for or there is none.</summary>
    public WorstOfTest? Worst { get; init; }
}

/// <summary>The running pair of one test that follows worst.</summary>
/// <param name="From">Its guide nearer the reel.</param>
/// <param name="To">Its other guide, or the tip-top.</param>
/// <param name="ByClearance">Judged by clearance (outside the bend), else by bow.</param>
/// <param name="Mm">That figure.</param>
/// <param name="UncertaintyMm">Of it, 95 %.</param>
/// <param name="Against">Against the test before, where that is judged alike.</param>
public sealed record WorstOfTest(int From, int To, bool ByClearance, double Mm, double UncertaintyMm, Change? Against);

/// <summary>A build's measurements as a series, oldest first.</summary>
public static class HistorySeries
{
    /// <param name="build">The build.</param>
    /// <param name="document">Reads a measurement's document, for the pair that follows worst; null: left out.</param>
    public static IReadOnlyList<HistoryStep> Of(Build build, Func<StoredMeasurement, Measurement>? document = null)
    {
        WorstOfTest? worst = null;
        List<HistoryStep> steps = [];
        StoredMeasurement? last = null;
        foreach (StoredMeasurement m in build.Counting)
        {
            steps.Add(new HistoryStep(
                m,
                Against(last?.LargestGapMm, last?.LargestGapUncertaintyMm, m.LargestGapMm, m.LargestGapUncertaintyMm),
                Against(last?.LargestBowMm, last?.LargestBowUncertaintyMm, m.LargestBowMm, m.LargestBowUncertaintyMm),
                m.TipTurnDeg - last?.TipTurnDeg)
            {
                Worst = document is null ? null : WorstOf(document(m), worst),
            });
            worst = steps[^1].Worst ?? worst;
            last = m.LargestGapMm is null ? last : m;
        }

        return steps;
    }

    private static WorstOfTest? WorstOf(Measurement m, WorstOfTest? before)
    {
        if (m.FollowsWorst is not { } pair || m.GuidesInDoubt)
            return null;
        bool outside = m.Side == Tracing.BendSide.Outside;
        (double mm, double uncertainty) = outside ? (pair.ClearanceMm, pair.GapUncertaintyMm) : (pair.BowMm, pair.BowUncertaintyMm);
        Change? change = before is { } b && b.ByClearance == outside ? Change.Of(b.Mm, b.UncertaintyMm, mm, uncertainty) : null;
        return new WorstOfTest(pair.From, pair.To, outside, mm, uncertainty, change);
    }

    private static Change? Against(double? before, double? beforeUncertainty, double? after, double? afterUncertainty) =>
        before is { } b && after is { } a ? Change.Of(b, beforeUncertainty ?? 0, a, afterUncertainty ?? 0) : null;
}
