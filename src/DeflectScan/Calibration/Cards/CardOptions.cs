namespace DeflectScan.Calibration.Cards;

/// <summary>How cards are looked for. The defaults serve photos of 3 to 120 megapixels.</summary>
public sealed record CardOptions
{
    public static CardOptions Default { get; } = new();

    /// <summary>Pixels of the reduced picture that is searched first. Fewer: faster, and small cards need the finer passes.</summary>
    public double FirstSearchPixels { get; init; } = 1.6e6;

    /// <summary>Each finer pass has this many times the pixels of the one before.</summary>
    public double FinerBy { get; init; } = 4;

    /// <summary>No pass has more pixels than this: what is not found then would be too small to measure from.</summary>
    public double LastSearchPixels { get; init; } = 26e6;

    /// <summary>A picture up to this many pixels whose markers are not large enough is searched once more at twice its size, for tiny cards.</summary>
    public double MagnifyUpToPixels { get; init; } = 4e6;

    /// <summary>A pass is fine enough once the markers that it shows are this large (px along a side, in the pass's picture).</summary>
    public double SureMarkerPx { get; init; } = 13;

    /// <summary>Corners that a card needs before it counts as found.</summary>
    public int FewestCorners { get; init; } = 6;

    /// <summary>
    /// Radius of the window round a corner in squares. Up to 0.35 the print is point-symmetric about every inner corner (the markers'
    /// bits begin there), which the measurement of the corner rests on.
    /// </summary>
    public double WindowSquares { get; init; } = 0.32;

    /// <summary>A corner whose neighbourhood departs from point symmetry by more than this share of its contrast is left out (something lies over it).</summary>
    public double LargestAsymmetry { get; init; } = 0.30;

    /// <summary>A corner farther than this from where its card's others put it is left out, in squares (never less than 1 px).</summary>
    public double LargestOffsetSquares { get; init; } = 0.04;
}
