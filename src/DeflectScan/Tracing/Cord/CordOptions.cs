namespace DeflectScan.Tracing.Cord;

/// <summary>How the tie-off cord is searched. Lengths in mm in the rod plane.</summary>
public sealed record CordOptions
{
    /// <summary>Nearest distance from the tip that is looked at: the knot and the tip-top hide what lies closer. Default 16.</summary>
    public double FromMm { get; init; } = 16;

    /// <summary>How far from the tip the cord is first searched. Default 170.</summary>
    public double SearchToMm { get; init; } = 170;

    /// <summary>How far it is followed, unless it leaves the photo or ends before. Default 620.</summary>
    public double FollowToMm { get; init; } = 620;

    /// <summary>Largest distance of its centreline from the tip: it is tied to the tip-top or just behind it. Default 7.</summary>
    public double OffsetMm { get; init; } = 7;

    /// <summary>Turn from the tip's tangent at which the search begins, towards the inside of the bend, degrees. Default -15.</summary>
    public double FromTurnDeg { get; init; } = -15;

    /// <summary>Turn at which it ends: 180 would be back along the blank. Default 155.</summary>
    public double ToTurnDeg { get; init; } = 155;

    /// <summary>Widths that are tried, mm.</summary>
    public IReadOnlyList<double> WidthsMm { get; init; } = [1.0, 1.5, 2.2, 3.2, 4.6, 6.4];

    /// <summary>Least contrast in grey levels (luma and colour differences together) that both sides must have. Default 4.</summary>
    public double LeastContrast { get; init; } = 4;

    /// <summary>Least length over which it must be seen. Default 70.</summary>
    public double LeastLengthMm { get; init; } = 70;

    /// <summary>Least share of the first stretch (to <see cref="SearchToMm"/> or its end) where both edges must be seen. Default 0.55.</summary>
    public double LeastSupport { get; init; } = 0.55;
}
