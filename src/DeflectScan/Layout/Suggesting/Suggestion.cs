using DeflectScan.Layout.Spacing;

namespace DeflectScan.Layout.Suggesting;

/// <summary>
/// The extra guide and the shifts that level the bows of the running intervals, or the word that nothing is to be gained.
/// <para>
/// As a builder would think: guides may be badly spread, or there may be too few. So the layout is compared with the best one of the same number of
/// guides (exact, smallest largest bow). Where even that one makes the line turn sharply at a ring and one more takes enough off, one is added.
/// Where not, but shifts alone are worth their work, they do. Otherwise every further guide would only add weight to the
/// tip, which slows a rod, so nothing is suggested: <see cref="SuggestionOptions.IsWorth"/>, <see cref="SuggestionOptions.AnotherPays"/>. Outside the bend a
/// line that nearly lies on the blank counts as a reason too.
/// </para>
/// </summary>
public static class Suggestion
{
    /// <summary>The suggestion for a measured layout.</summary>
    /// <param name="shape">The blank.</param>
    /// <param name="rings">At least two, from the reel to the tip-top.</param>
    /// <param name="side">Side of the bend that the guides stand on.</param>
    /// <param name="heldCount">How many guides from the reel stay; at least one does. See <see cref="SuggestionOptions.DefaultHeld"/>.</param>
    /// <param name="options">When it is worth it and how guides may be placed.</param>
    public static SuggestionResult For(
        BlankShape shape, IReadOnlyList<RingPoint> rings, GuideSide side, int heldCount, SuggestionOptions options)
    {
        int lastHeld = RunningPairs.Reduction(side, rings.Count, heldCount) - 1;
        int free = rings.Count - 2 - lastHeld;
        LayoutResult before = LayoutRule.Evaluate(shape, rings, side);
        Trial now = new(SuggestionKind.None, [.. rings.Select((r, i) => new SuggestedRing(i, r))], before, lastHeld);
        Trial? level = Best(free);
        Trial? more = Best(free + 1);
        bool nearBlank = side == GuideSide.Outside && now.Clearance < options.LeastClearanceMm;
        if (more is not null && options.AnotherPays((level ?? now).Bow, (level ?? now).Steepest, more.Bow))
            return Result(more, now, null, Best(free + 2), options);
        bool uneven = level is not null && options.IsWorth(now.Bow, level.Bow, level.Moved(now));
        bool levelClears = level is not null && level.Clearance >= options.LeastClearanceMm && options.Clears(now.Clearance, level.Clearance);
        if (nearBlank && !levelClears && more is not null && options.Clears((level ?? now).Clearance, more.Clearance))
            return Result(more, now, null, null, options);
        return level is not null && (uneven || (nearBlank && levelClears))
            ? Result(level, now, null, null, options)
            : Result(now, now, level, more, options);

        Trial? Best(int guides)
        {
            SpacingOptions spacing = options.Spacing with { Goal = SpacingGoal.Bow };
            double tip = rings[^1].StationMm;
            double held = rings[lastHeld].StationMm;
            if (held <= tip || !SpacingRule.TryBest(shape, RunningSpan.ForBow(held, tip), guides, spacing, out SpacingPlan? plan))
                return null;
            IReadOnlyList<SuggestedRing> layout = Arrangement.Place(shape, rings, side, lastHeld, plan.StationsMm);
            LayoutResult after = LayoutRule.Evaluate(shape, [.. layout.Select(r => r.Point)], side);
            return new Trial(guides > free ? SuggestionKind.Add : SuggestionKind.Level, layout, after, lastHeld);
        }
    }

    private static SuggestionResult Result(Trial chosen, Trial now, Trial? level, Trial? next, SuggestionOptions options)
    {
        List<GuideMove> moves = [];
        double? addAt = null;
        foreach (SuggestedRing ring in chosen.Rings)
        {
            if (ring.Measured is not { } measured)
                addAt = ring.Point.StationMm;
            else if (now.Rings[measured].Point.StationMm != ring.Point.StationMm)
                moves.Add(new GuideMove(measured, now.Rings[measured].Point.StationMm, ring.Point.StationMm));
        }

        string why = SuggestionText.Why(chosen, now, level, next, addAt, moves, options);
        return new SuggestionResult(
            chosen.Kind, why, addAt, moves, chosen.Rings, now.Figures, chosen.Figures, now.Bow, chosen.Bow, now.Gap, chosen.Gap);
    }

    /// <summary>A layout under comparison, judged over its running intervals: those after the last held guide.</summary>
    internal sealed record Trial(SuggestionKind Kind, IReadOnlyList<SuggestedRing> Rings, LayoutResult Figures, int LastHeld)
    {
        public IEnumerable<Interval> Running => Figures.Intervals.Skip(LastHeld);

        public double Bow { get; } = Figures.Intervals.Skip(LastHeld).Max(i => i.BowMm);

        public double Gap { get; } = Figures.Intervals.Skip(LastHeld).Max(i => i.GapMm);

        public double Clearance { get; } = Figures.Intervals.Skip(LastHeld).Min(i => i.ClearanceMm);

        public double Steepest { get; } = Figures.Intervals.Skip(LastHeld).Max(i => i.BowMm / Math.Max(i.ChordMm, 1e-9));

        /// <summary>Guides that stand elsewhere than now.</summary>
        public int Moved(Trial now) => Rings.Count(r => r.Measured is not { } i || r.Point.StationMm != now.Rings[i].Point.StationMm);

        /// <summary>Index of the ring that opens the running interval with the largest bow.</summary>
        public int WorstFrom => LastHeld + Running.Select((v, i) => (v.BowMm, i)).MaxBy(p => p.BowMm).i;
    }
}
