namespace DeflectScan.Layout.Suggesting;

/// <summary>What a suggestion asks for.</summary>
public enum SuggestionKind
{
    /// <summary>Leave the layout as it is.</summary>
    None,

    /// <summary>Shift guides; no extra one.</summary>
    Level,

    /// <summary>One extra guide, and shifts of the others.</summary>
    Add,
}

/// <summary>A guide that the suggestion shifts.</summary>
/// <param name="Ring">Index into the layout's rings as measured, 0 nearest to the reel.</param>
/// <param name="FromMm">Station as measured.</param>
/// <param name="ToMm">Suggested station, a whole multiple of the grid.</param>
public sealed record GuideMove(int Ring, double FromMm, double ToMm)
{
    /// <summary>mm; stations are whole millimetres: a shift by less than half of one is none that a hand can make.</summary>
    internal const double LeastMm = 0.5;

    /// <summary>Whether a builder can make it. A smaller one belongs to the optimum all the same.</summary>
    public bool CanBeMade => Math.Abs(ToMm - FromMm) >= LeastMm;
}

/// <summary>A ring of the suggested layout.</summary>
/// <param name="Measured">Index of the same guide in the layout as measured; null for the extra guide.</param>
/// <param name="Point">Where the line would touch it.</param>
public sealed record SuggestedRing(int? Measured, RingPoint Point);

/// <summary>The suggestion. Bows and gaps are the largest between the last held guide and the tip-top, where guides may move, in mm.</summary>
/// <param name="Kind">What it asks for.</param>
/// <param name="Why">One or two plain sentences for a builder.</param>
/// <param name="AddAtMm">Station of the extra guide; null unless <paramref name="Kind"/> is Add.</param>
/// <param name="Moves">Shifts, from the reel to the tip.</param>
/// <param name="Rings">The suggested layout, from the reel to the tip-top.</param>
/// <param name="Before">The layout as measured.</param>
/// <param name="After">The suggested layout's figures: the same as before when nothing is suggested.</param>
public sealed record SuggestionResult(
    SuggestionKind Kind,
    string Why,
    double? AddAtMm,
    IReadOnlyList<GuideMove> Moves,
    IReadOnlyList<SuggestedRing> Rings,
    LayoutResult Before,
    LayoutResult After,
    double BowBeforeMm,
    double BowAfterMm,
    double GapBeforeMm,
    double GapAfterMm);
