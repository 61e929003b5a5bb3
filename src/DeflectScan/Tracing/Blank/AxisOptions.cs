using DeflectScan.Geometry;
using DeflectScan.Photos;

namespace DeflectScan.Tracing.Blank;

/// <summary>What the blank's tracing may assume, and what a person told it. Every default suits rods of 1.2 to 4 m.</summary>
public sealed record AxisOptions
{
    /// <summary>Shortest blank, in mm, that is taken for one.</summary>
    public double ShortestBlankMm { get; init; } = 700;

    /// <summary>Tip turn in degrees below which a review is asked for: gaps of a nearly straight rod say little.</summary>
    public double SmallTurnDeg { get; init; } = 20;

    /// <summary>Tip turn in degrees above which a review is asked for: near to breaking, or not a rod.</summary>
    public double LargeTurnDeg { get; init; } = 130;

    /// <summary>Nothing pulls the rod: it need not bend. Without that, a straight bar is not taken for a blank.</summary>
    public bool AtRest { get; init; }

    /// <summary>
    /// Blur of printed edges in the photo, sigma in px; null: not known. Shade and gloss make a round bar's edges look softer than they are,
    /// and a bar whose blur is overrated comes out too thin: its blur is held to this.
    /// </summary>
    public double? PrintBlurPx { get; init; }

    /// <summary>How the camera sharpened the photo; null: not known, and dark bars before something bright come out a little too thin.</summary>
    public UnsharpMask? Sharpening { get; init; }

    /// <summary>Points that a person placed on the blank, px of the upright photo: the blank must run through all of them.</summary>
    public IReadOnlyList<Vec2> BlankMarksPx { get; init; } = [];

    /// <summary>Where a person sees the tip's end, px; it overrides the end found.</summary>
    public Vec2? TipMarkPx { get; init; }

    /// <summary>Where a person sees the bare blank enter the handle, px; it overrides the end found.</summary>
    public Vec2? ButtMarkPx { get; init; }
}
