namespace DeflectScan.Records.Comparing;

/// <summary>Where a running pair stands against a target.</summary>
public enum AgainstTarget
{
    /// <summary>Below it by more than its uncertainty.</summary>
    Met,

    /// <summary>Its uncertainty does not say on which side.</summary>
    Open,

    /// <summary>Above it by more than its uncertainty.</summary>
    Above,
}

/// <summary>A target that a builder sets: the largest bow of any running pair.</summary>
public static class BowTarget
{
    /// <summary>Targets that make sense, mm: below the first no photo tells, above the second every rod meets it (chosen).</summary>
    public const double LeastMm = 0.5;
    public const double MostMm = 200;

    /// <summary>The running pairs whose figures stand, from the reel to the tip-top, each against the target.</summary>
    /// <param name="m">A measurement with figures.</param>
    /// <param name="targetMm">The target.</param>
    public static IReadOnlyList<(IntervalReport Pair, AgainstTarget Is)> Of(Measurement m, double targetMm)
    {
        if (m.Side is not { } side || m.Intervals.Count == 0)
            return [];
        int reduction = m.Running?.ReductionGuides ?? RunningReport.Of(m.Intervals, side, null).ReductionGuides;
        return
        [
            .. m.Intervals.Skip(Math.Min(reduction, m.Intervals.Count) - 1).Where(p => !m.InDoubt(p)).Select(p => (p,
                p.BowMm - p.Bow.UncertaintyMm > targetMm ? AgainstTarget.Above
                : p.BowMm + p.Bow.UncertaintyMm <= targetMm ? AgainstTarget.Met : AgainstTarget.Open)),
        ];
    }
}
