namespace DeflectScan.Layout.Start;

public enum RodKind
{
    /// <summary>Guides below, a fixed spool: the line comes off in coils.</summary>
    Spinning,

    /// <summary>Guides on top, a turning spool: the line comes off straight.</summary>
    Casting,
}

public enum LineKind
{
    Braid,
    Monofilament,
}

/// <summary>What a start layout is made for.</summary>
public sealed record StartInput
{
    public RodKind Kind { get; init; } = RodKind.Spinning;

    /// <summary>
    /// Reel class, 1000 to 5000 with a fixed spool, 50 to 400 with a turning one; its spool is taken from common practice unless given below. Null: the usual
    /// small one, 2000 and 200.
    /// </summary>
    public int? ReelClass { get; init; }

    /// <summary>mm; diameter of the spool's lip, or null for the class's.</summary>
    public double? SpoolLipMm { get; init; }

    /// <summary>mm; height of the spool's axis over the blank's axis, or null for the class's.</summary>
    public double? SpoolAxisHeightMm { get; init; }

    public LineKind Line { get; init; } = LineKind.Braid;

    /// <summary>Running guides start by equal bow on a typical bend and not equally spaced; see <see cref="TypicalBend"/>.</summary>
    public bool RunningByBow { get; init; }

    /// <summary>kg; the main line's strength.</summary>
    public double LineStrengthKg { get; init; } = 5;

    /// <summary>kg; strength of the single-filament leader, or null for none. Its knot must pass every ring.</summary>
    public double? LeaderStrengthKg { get; init; } = 5;

    /// <summary>mm; the whole rod's length.</summary>
    public required double RodLengthMm { get; init; }

    /// <summary>mm; from the butt end to the reel's front.</summary>
    public required double ReelFrontFromButtMm { get; init; }
}

/// <summary>One guide of a start layout, or the tip-top.</summary>
/// <param name="Role">Reduction, running or tip-top.</param>
/// <param name="FromReelMm">From the reel's front along the blank.</param>
/// <param name="FromTipMm">From the tip.</param>
/// <param name="StationBasis">What its place rests on, and why.</param>
/// <param name="RingSize">Ring size number: about the ring's outer diameter in mm.</param>
/// <param name="RingBasis">What the ring's size rests on, and why.</param>
/// <param name="ConeMm">Spinning, up to the last reduction guide: diameter of the cone of coils there.</param>
/// <param name="ConeHeightMm">Height of that cone's axis over the blank's axis: where the ring's centre should stand.</param>
public sealed record StartGuide(
    GuideRole Role,
    double FromReelMm,
    double FromTipMm,
    Reasoned StationBasis,
    double RingSize,
    Reasoned RingBasis,
    double? ConeMm,
    double? ConeHeightMm);

public enum GuideRole
{
    Reduction,
    Running,
    TipTop,
}

/// <summary>A layout to tape on before the first test.</summary>
/// <param name="Guides">From the reel to the tip-top.</param>
/// <param name="Spool">Lip diameter and axis height as used; none with a turning spool, which gives the line off straight.</param>
/// <param name="LeastBore">The hole that every ring must have, in mm.</param>
/// <param name="Count">How many guides, the tip-top not counted.</param>
public sealed record StartLayout(IReadOnlyList<StartGuide> Guides, IReadOnlyList<Reasoned> Spool, Reasoned LeastBore, Reasoned Count);
