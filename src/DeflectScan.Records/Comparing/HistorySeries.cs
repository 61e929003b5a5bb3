using DeflectScan.Records.Model;

namespace DeflectScan.Records.Comparing;

/// <summary>One measurement in a build's series, with the change against the one before it; null where there is none before.</summary>
public sealed record HistoryStep(StoredMeasurement Measurement, Change? Gap, Change? Bow)
{
    /// <summary>The running pair that follows worst; null where there is none or where the guides are in doubt.</summary>
    public WorstPair? Worst => Measurement.Worst;

    /// <summary>Of that pair's figure, against the last test before that is judged alike; null where there is none.</summary>
    public Change? WorstChange { get; init; }
}

/// <summary>A build's measurements as a series, oldest first.</summary>
public static class HistorySeries
{
    public static IReadOnlyList<HistoryStep> Of(Build build)
    {
        WorstPair? worst = null;
        List<HistoryStep> steps = [];
        StoredMeasurement? last = null;
        foreach (StoredMeasurement m in build.Counting)
        {
            steps.Add(new HistoryStep(
                m,
                Against(last?.LargestGapMm, last?.LargestGapUncertaintyMm, m.LargestGapMm, m.LargestGapUncertaintyMm),
                Against(last?.LargestBowMm, last?.LargestBowUncertaintyMm, m.LargestBowMm, m.LargestBowUncertaintyMm))
            {
                WorstChange = worst is { } w && m.Worst is { } now && w.ByClearance == now.ByClearance ? Change.Of(new(w.Mm, w.UncertaintyMm), new(now.Mm, now.UncertaintyMm)) : null,
            });
            worst = m.Worst ?? worst;
            last = m.LargestGapMm is null ? last : m;
        }

        return steps;
    }

    private static Change? Against(double? before, double? beforeUncertainty, double? after, double? afterUncertainty) =>
        before is { } b && after is { } a ? Change.Of(new(b, beforeUncertainty ?? 0), new(a, afterUncertainty ?? 0)) : null;
}
