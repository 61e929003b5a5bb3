using DeflectScan.Findings;
using DeflectScan.Layout;
using DeflectScan.Layout.Guides;
using DeflectScan.Layout.Spacing;
using DeflectScan.Layout.Suggesting;

namespace DeflectScan.Desk;

/// <summary>The best layout for one number of guides.</summary>
/// <param name="Guides">In all, the held ones among them, the tip-top not counted.</param>
/// <param name="RunningGuides">Those after the last held one.</param>
/// <param name="LargestBowMm">Of the running intervals.</param>
/// <param name="LargestGapMm">Of the running intervals.</param>
/// <param name="TakesOffMm">What it takes off the largest bow (or gap, where that is made small) of one guide fewer; null for the first.</param>
/// <param name="RunningMassG">Mass of the running guides; null without a guide table that says it.</param>
/// <param name="Pays">It takes off enough to be worth its mass; see <see cref="SuggestionOptions.AnotherPays"/>.</param>
public sealed record SpacingStep(
    int Guides, int RunningGuides, double LargestBowMm, double LargestGapMm, double? TakesOffMm, double? RunningMassG, bool Pays);

/// <summary>The best spacing on a measured bend, and how the largest bow falls with the number of guides.</summary>
/// <param name="Held">Guides from the reel that stay.</param>
/// <param name="Goal">What was made small.</param>
/// <param name="Before">The layout as measured.</param>
/// <param name="Layout">The layout asked for; null when only the curve was.</param>
/// <param name="Curve">From no running guide on.</param>
/// <param name="MassPerGuideG">Mass of one running guide, if known.</param>
/// <param name="Notes">What a person should know: one plain sentence each.</param>
public sealed record SpacingReport(
    int Held,
    SpacingGoal Goal,
    JudgedLayout Before,
    JudgedLayout? Layout,
    IReadOnlyList<SpacingStep> Curve,
    double? MassPerGuideG,
    IReadOnlyList<string> Notes)
{
    /// <summary>Guides in all up to which each further one pays.</summary>
    public int PaysUpTo => Curve.TakeWhile(s => s.TakesOffMm is null || s.Pays).LastOrDefault()?.Guides ?? Held;

    /// <summary>The report; refused (guides-uncertain) where what is asked for cannot be.</summary>
    public static Outcome<SpacingReport> Of(MeasuredLayout rod, SpacingRequest request, GuideTable? table)
    {
        if ((request.FirstProblem(rod.Rings.Count) ?? RunningSpace.Problem(rod, request, table)) is { } wrong)
            return Refused(wrong);
        RunningSpace space = RunningSpace.Of(rod, request, table);
        int most = request.CurveTo ?? Math.Max(8, space.FreeAsMeasured + 4);
        IReadOnlyList<SpacingPlan> curve = SpacingRule.Curve(rod.Shape, space.Span, most, space.Options);
        SpacingPlan? plan = null;
        if (request.Guides is { } n && !SpacingRule.TryBest(rod.Shape, space.Span, n - space.Held, space.Options, out plan))
            return Refused($"{n - space.Held} running guides find no room between guide {space.Held} and the tip-top: allow a smaller spacing, or spacings that grow toward the tip.");
        if ((request.LargestBowMm ?? request.LargestGapMm) is { } limit && !SpacingRule.TryWithin(rod.Shape, space.Span, limit, space.Options, out plan))
            return Refused(space.WithinProblem(limit));
        JudgedLayout? layout = plan is null ? null : space.Judge(plan);
        return Outcome<SpacingReport>.Of(new SpacingReport(
            space.Held, space.Options.Goal, JudgedLayout.Measured(rod, space.Held), layout, [.. Steps(space, curve, rod.Worth, rod.Side == GuideSide.Outside)], space.MassG,
            [
                .. table is not null && space.MassG is null ? (string[])["Which of the table's rings the running guides are is not seen: name their ring to have their mass."] : [],
                .. layout is null ? [] : DeskNotes.Of(rod, layout),
            ]));

        static Outcome<SpacingReport> Refused(string message) => Outcome<SpacingReport>.Refused(FindingCode.GuidesUncertain, message);
    }

    private static IEnumerable<SpacingStep> Steps(RunningSpace space, IReadOnlyList<SpacingPlan> curve, SuggestionOptions worth, bool outside)
    {
        double? before = null;
        (double steepestBefore, double clearanceBefore) = (0, 0);
        foreach (SpacingPlan plan in curve)
        {
            int running = plan.StationsMm.Count;
            (double bow, double gap, double steepest, double clearance) = space.Largest(plan);
            double goal = plan.LargestMm;
            double? takesOff = before - goal;
            yield return new SpacingStep(
                space.Held + running, running, bow, gap, takesOff, running * space.MassG, before is { } fewer && (worth.AnotherPays(fewer, steepestBefore, goal) || (outside && worth.Clears(clearanceBefore, clearance))));
            (before, steepestBefore, clearanceBefore) = (goal, steepest, clearance);
        }
    }
}
