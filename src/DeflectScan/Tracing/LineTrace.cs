using DeflectScan.Calibration;
using DeflectScan.Geometry;

namespace DeflectScan.Tracing;

/// <summary>Where the guides stand with respect to the bend.</summary>
public enum BendSide
{
    /// <summary>On the concave side (spinning).</summary>
    Inside,

    /// <summary>On the convex side (casting).</summary>
    Outside,
}

/// <summary>How a place was found.</summary>
public enum Source
{
    /// <summary>Seen in the photo.</summary>
    Traced,

    /// <summary>Taken from its neighbours: a taut line is straight.</summary>
    Inferred,

    /// <summary>Placed by a person.</summary>
    Marked,
}

/// <summary>A ring as seen: the point where the line touches it.</summary>
/// <param name="ContactMm">The line's vertex at this ring, rod-plane mm.</param>
/// <param name="AlongSdMm">Standard uncertainty along the blank, tracing alone, mm.</param>
/// <param name="AcrossSdMm">Standard uncertainty across the blank, tracing alone, mm.</param>
/// <param name="OuterDiameterMm">Ring's outer diameter where it could be told, else null.</param>
/// <param name="IsTip">The tip-top's ring.</param>
/// <param name="Source">How it was found.</param>
public sealed record RingSighting(
    Vec2 ContactMm,
    double AlongSdMm,
    double AcrossSdMm,
    double? OuterDiameterMm,
    bool IsTip,
    Source Source);

/// <summary>The line path and the rings it runs through, from the reel to the tip-top (the last one).</summary>
/// <param name="Side">Side of the bend that the guides stand on.</param>
/// <param name="Rings">From the reel to the tip-top, the tip-top last.</param>
/// <param name="SegmentSources">How the straight line between ring i and ring i + 1 was found; one fewer than the rings.</param>
/// <param name="ReelEndMm">Where the line comes from before the first ring (farthest point seen), if seen.</param>
/// <param name="HangEndMm">A point of the line beyond the tip-top (towards the weight), if seen.</param>
public sealed record LineTrace(
    BendSide Side,
    IReadOnlyList<RingSighting> Rings,
    IReadOnlyList<Source> SegmentSources,
    Vec2? ReelEndMm,
    Vec2? HangEndMm)
{
    /// <summary>Whether the line beyond the tip-top was not seen, and its ring was placed where the line ends.</summary>
    public bool IsTipAtLineEnd { get; init; }

    /// <summary>Standard uncertainty along the blank, mm, of the tip-top's place as it was read, which lies no farther from its ring than chance; null where it was not read, or marked.</summary>
    public double? TipReadSdMm { get; init; }

    /// <summary>Where the straight pieces of line were seen on the photo.</summary>
    public IReadOnlyList<StraightPiece> Pieces { get; init; } = [];

    /// <summary>The reel's front; null where no reel was seen.</summary>
    public ReelFront? ReelFront { get; init; }

    /// <summary>The same places on the photo in another plane.</summary>
    public LineTrace CarriedTo(RodPlane to, RodPlane from)
    {
        Vec2 Carry(Vec2 p) => to.ToPlane(from.ToPhoto(p));
        return this with
        {
            Rings = [.. Rings.Select(r => r with { ContactMm = Carry(r.ContactMm) })],
            ReelEndMm = ReelEndMm is { } reel ? Carry(reel) : null,
            HangEndMm = HangEndMm is { } hang ? Carry(hang) : null,
            ReelFront = ReelFront is { } front ? front with { PointMm = Carry(front.PointMm) } : null,
        };
    }
}
