using DeflectScan.Cli.Running;
using DeflectScan.Desk;

namespace DeflectScan.Cli.Display.Desk;

/// <summary>A layout before and after some changes, as a builder reads it at the bench.</summary>
internal sealed class WhatIfDisplay(Terminal terminal, Figures figures)
{
    public void Show(WhatIfReport report, string name)
    {
        DeskPage page = new(terminal, figures.Unit);
        page.Title($"{name}: what if");
        page.Heading("Guides then", "station: along the blank from the tip-top; shift: + towards the reel");
        page.Write(DeskTables.Guides(report.After, report.Before, figures, page.Border));
        page.Heading("Pairs now", $"in {figures.UnitWord}; as measured");
        page.Write(DeskTables.Pairs(report.Before, figures, page.Border));
        page.Heading("Pairs then", $"in {figures.UnitWord}; predicted on the same bend, guides numbered anew");
        page.Write(DeskTables.Pairs(report.After, figures, page.Border));
        JudgedPair gapNow = report.Before.LargestGap, gapThen = report.After.LargestGap, bowNow = report.Before.LargestBow, bowThen = report.After.LargestBow;
        if (report.Before.FollowsWorst is { } was && report.After.FollowsWorst is { } then)
        {
            bool outside = report.IsOutside;
            page.Strong($"Follows worst: {DeskTables.Pair(report.Before, was)}, {(outside ? "clearance" : "bow")} {Worst(was, outside)} -> {DeskTables.Pair(report.After, then)}, {Worst(then, outside)} {figures.UnitName}.");
        }

        page.Line($"Largest gap {figures.WithUncertainty(gapNow.GapMm, gapNow.GapUncertaintyMm)} -> {figures.Sentence(gapThen.GapMm, gapThen.GapUncertaintyMm)}, "
            + $"largest bow {figures.WithUncertainty(bowNow.BowMm, bowNow.BowUncertaintyMm)} -> {figures.Sentence(bowThen.BowMm, bowThen.BowUncertaintyMm)}.");
        page.Notes(report.Notes);
    }

    private string Worst(JudgedPair p, bool outside) =>
        outside ? figures.WithUncertainty(p.ClearanceMm, p.ClearanceUncertaintyMm) : figures.WithUncertainty(p.BowMm, p.BowUncertaintyMm);
}
