namespace DeflectScan.Layout.Spacing;

/// <summary>What the best spacing makes small.</summary>
public enum SpacingGoal
{
    /// <summary>The largest bow: judges the spacing itself, whatever the guides' heights.</summary>
    Bow,

    /// <summary>The largest gap: what a person sees between line and blank; depends on the heights.</summary>
    Gap,
}

/// <summary>Stations, from the tip, where no guide can stand: a ferrule, a hook keeper.</summary>
/// <param name="FromMm">Nearer to the tip.</param>
/// <param name="ToMm">Nearer to the butt.</param>
public readonly record struct ForbiddenZone(double FromMm, double ToMm)
{
    public bool Holds(double stationMm) => stationMm >= FromMm && stationMm <= ToMm;
}

/// <summary>How running guides may be placed.</summary>
public sealed record SpacingOptions
{
    /// <summary>mm; no two guides nearer to each other than this, the tip-top and the last held guide included. 40: room for two wrapped feet.</summary>
    public double LeastSpacingMm { get; init; } = 40;

    /// <summary>From the last held guide on, no spacing is larger than the one before it, as builders lay guides out (common practice, no source).</summary>
    public bool NotGrowingTowardTip { get; init; } = true;

    /// <summary>mm; guides stand on whole multiples of this from the tip: what a person can mark. 1 mm, or 1.5875 for 1/16 in.</summary>
    public double GridMm { get; init; } = 1;

    /// <summary>Stations where no guide can stand.</summary>
    public IReadOnlyList<ForbiddenZone> Forbidden { get; init; } = [];

    /// <summary>What is made small.</summary>
    public SpacingGoal Goal { get; init; } = SpacingGoal.Bow;
}

/// <summary>The part of a blank that running guides share: from the last held guide to the tip-top, both of which stay.</summary>
/// <param name="HeldMm">Station of the last held guide, from the tip.</param>
/// <param name="TipMm">Station of the tip-top's ring.</param>
/// <param name="Side">Side of the bend that the guides stand on.</param>
/// <param name="DistanceMm">A ring's distance from the axis in mm by station; only the gap depends on it. Must be pure.</param>
public sealed record RunningSpan(double HeldMm, double TipMm, GuideSide Side, Func<double, double> DistanceMm)
{
    /// <summary>A span whose goal is the bow, for which heights do not count.</summary>
    public static RunningSpan ForBow(double heldMm, double tipMm) => new(heldMm, tipMm, GuideSide.Inside, _ => 0);
}

/// <summary>Stations of running guides that make the largest bow (or gap) as small as it can be.</summary>
/// <param name="StationsMm">The free guides from the reel to the tip, from the tip; without the held guide and the tip-top.</param>
/// <param name="LargestMm">The largest bow (or gap) of an interval, mm, the held guide and the tip-top among them.</param>
public sealed record SpacingPlan(IReadOnlyList<double> StationsMm, double LargestMm);
