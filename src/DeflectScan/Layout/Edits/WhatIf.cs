using DeflectScan.Findings;
using DeflectScan.Layout.Suggesting;

namespace DeflectScan.Layout.Edits;

/// <summary>Edits of a layout on the measured axis, which stays: only the line finds another path. Fast enough to follow a dragging finger.</summary>
public static class WhatIf
{
    /// <summary>Guides nearer than this to each other, mm, are no layout.</summary>
    private const double LeastSpacingMm = 5;

    /// <summary>The rings after edits.</summary>
    /// <param name="shape">The blank.</param>
    /// <param name="rings">As measured, from the reel to the tip-top.</param>
    /// <param name="side">Side of the bend that the guides stand on.</param>
    /// <param name="edits">All at once, each on the layout as measured.</param>
    /// <returns>From the reel to the tip-top; Measured is the index as measured, null for an added guide. Refused (guides-uncertain) where an edit cannot be.</returns>
    public static Outcome<IReadOnlyList<SuggestedRing>> Place(BlankShape shape, IReadOnlyList<RingPoint> rings, GuideSide side, IReadOnlyList<LayoutEdit> edits)
    {
        if ((edits.Select(e => Problem(shape, rings, e)).FirstOrDefault(p => p is not null) ?? Twice(edits)) is { } problem)
            return Outcome<IReadOnlyList<SuggestedRing>>.Refused(FindingCode.GuidesUncertain, problem);
        List<SuggestedRing> placed = [];
        for (int i = 0; i < rings.Count; i++)
        {
            if (edits.Any(e => e is RemoveGuide r && r.Ring == i))
                continue;
            MoveGuide? move = edits.OfType<MoveGuide>().FirstOrDefault(m => m.Ring == i);
            placed.Add(new SuggestedRing(i, move is null
                ? rings[i]
                : RingPoint.At(shape, move.ToMm, move.DistanceMm ?? rings[i].DistanceMm, side)));
        }

        RingPoint[] standing = [.. placed.SkipLast(1).Select(r => r.Point)];
        foreach (AddGuide add in edits.OfType<AddGuide>())
            placed.Add(new SuggestedRing(null, RingPoint.At(shape, add.AtMm, add.DistanceMm ?? AddedRing.DistanceMm(standing, rings[^1], add.AtMm), side)));
        List<SuggestedRing> ordered = [.. placed.OrderByDescending(r => r.Point.StationMm)];
        return Crowded(ordered) is { } crowded
            ? Outcome<IReadOnlyList<SuggestedRing>>.Refused(FindingCode.GuidesUncertain, crowded)
            : Outcome<IReadOnlyList<SuggestedRing>>.Of(ordered);
    }

    private static string? Problem(BlankShape shape, IReadOnlyList<RingPoint> rings, LayoutEdit edit)
    {
        (int? ring, double? at) = edit switch
        {
            MoveGuide m => ((int?)m.Ring, (double?)m.ToMm),
            RemoveGuide r => (r.Ring, null),
            AddGuide a => (null, a.AtMm),
            _ => (null, null),
        };
        if (ring < 0 || ring >= rings.Count)
            return $"There is no guide {ring + 1}: the layout has {rings.Count - 1} guides, counted from the reel.";
        if (ring == rings.Count - 1)
            return "The tip-top stays: move or remove a guide instead.";
        return at is not { } s || (s > 0 && s < shape.LengthMm)
            ? null
            : $"{s:F0} mm from the tip is off the measured blank: give a station between 0 and {shape.LengthMm:F0} mm.";
    }

    private static string? Twice(IReadOnlyList<LayoutEdit> edits) =>
        edits.Select(e => e is MoveGuide m ? m.Ring : e is RemoveGuide r ? r.Ring : -1)
            .Where(i => i >= 0)
            .GroupBy(i => i)
            .Where(g => g.Count() > 1)
            .Select(g => $"Guide {g.Key + 1} is named twice: give one move or removal for each guide.")
            .FirstOrDefault();

    private static string? Crowded(IReadOnlyList<SuggestedRing> ordered)
    {
        if (ordered[^1].Measured is null || ordered.Count < 2)
            return "A guide would stand beyond the tip-top: place it nearer to the reel.";
        for (int i = 1; i < ordered.Count; i++)
        {
            double spacing = ordered[i - 1].Point.StationMm - ordered[i].Point.StationMm;
            if (spacing < LeastSpacingMm)
                return $"Two guides would stand {spacing:F1} mm apart, {ordered[i].Point.StationMm:F0} mm from the tip: place them farther apart.";
        }

        return null;
    }
}
