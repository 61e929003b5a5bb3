using DeflectScan.Layout.Spacing;

namespace DeflectScan.Desk;

/// <summary>What the best spacing is asked for. One of the first three is given, or none: then only the curve is made.</summary>
public sealed record SpacingRequest
{
    /// <summary>Guides in all, the held ones among them and the tip-top not counted.</summary>
    public int? Guides { get; init; }

    /// <summary>mm; the fewest guides that keep every running interval's bow within this.</summary>
    public double? LargestBowMm { get; init; }

    /// <summary>mm; the fewest guides that keep every running interval's gap within this.</summary>
    public double? LargestGapMm { get; init; }

    /// <summary>Guides from the reel that stay; null for three inside the bend, one outside (common practice, no source).</summary>
    public int? Hold { get; init; }

    /// <summary>Ring size of the running guides in the guide table; null for rings as measured.</summary>
    public double? RingSize { get; init; }

    /// <summary>Where guides may stand and what is made small.</summary>
    public SpacingOptions Options { get; init; } = new();

    /// <summary>The curve goes as far as this many running guides; null for four more than there are, at least eight.</summary>
    public int? CurveTo { get; init; }

    /// <summary>The first thing out of its range, as one sentence; null where nothing is.</summary>
    public string? FirstProblem(int ringsAsMeasured) =>
        new object?[] { Guides, LargestBowMm, LargestGapMm }.Count(v => v is not null) > 1 ? "Give one of the number of guides, the largest bow and the largest gap."
        : Hold is < 1 || Hold > ringsAsMeasured - 1 ? $"The number of guides to hold must be from 1 to {ringsAsMeasured - 1}."
        : Guides is < 1 or > 30 ? "The number of guides must be from 1 to 30, the tip-top not counted."
        : LargestBowMm is <= 0 || LargestGapMm is <= 0 ? "The largest bow or gap must be more than 0 mm."
        : Options.GridMm is < 0.5 or > 50 ? "Stations can be rounded to 0.5 mm at the finest and 50 mm at the coarsest."
        : Options.LeastSpacingMm is < 5 or > 1000 ? "The least spacing must be from 5 to 1000 mm."
        : CurveTo is < 0 or > 25 ? "The curve can go as far as 25 running guides."
        : Options.Forbidden.FirstOrDefault(z => !(z.FromMm < z.ToMm)) is { FromMm: var a, ToMm: var b } && (a, b) != (0, 0) ? $"A zone where no guide can stand must end beyond where it begins ({a:0.#} to {b:0.#} mm)."
        : null;
}
