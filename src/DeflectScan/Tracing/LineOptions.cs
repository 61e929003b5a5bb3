using DeflectScan.Geometry;

namespace DeflectScan.Tracing;

/// <summary>What the line tracer may assume and how far it looks. All lengths in rod-plane mm unless the name says px.</summary>
public sealed record LineOptions
{
    public static LineOptions Default { get; } = new();

    /// <summary>Guides with the tip-top, when a person has counted them; null: found. A different count found is put up for review.</summary>
    public int? ExpectedGuides { get; init; }

    /// <summary>Side of the bend, when a person has said it; null: both are tried and the one with the better line is taken.</summary>
    public BendSide? Side { get; init; }

    /// <summary>
    /// Ring points that a person placed, photo px, in any order; empty: none. As many as <see cref="ExpectedGuides"/>: they are all the rings
    /// there are. Fewer: rings that stand there besides those found.
    /// </summary>
    public IReadOnlyList<Vec2> MarkedRingsPx { get; init; } = [];

    /// <summary>Whether the marks are all the rings there are (the tip-top's may be left out).</summary>
    public bool MarksAreComplete { get; init; }

    /// <summary>Standard uncertainty of such a point in each direction, photo px. Default 3: a click on a picture that is shown somewhat reduced.</summary>
    public double MarkSdPx { get; init; } = 3;

    /// <summary>How far from the blank the line is looked for. Default 75 mm: above a large spinning reel's first ring and the belly of a long interval.</summary>
    public double BandMm { get; init; } = 75;

    /// <summary>
    /// The same on the outside of the bend, where a taut line between two rings is never farther from the blank than the higher ring.
    /// Default 34 mm.
    /// </summary>
    public double OutsideBandMm { get; init; } = 34;

    /// <summary>How far the tip-top may lie from the given end of the axis, both ways. Default 35 mm.</summary>
    public double TipSearchMm { get; init; } = 35;

    /// <summary>Finest sampling of the band. Default 0.4 mm, so that a photo of 50 megapixels costs little more than one of 20.</summary>
    public double FinestStepMm { get; init; } = 0.4;
}
