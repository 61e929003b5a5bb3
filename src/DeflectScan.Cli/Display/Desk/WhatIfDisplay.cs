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
        page.Strong($"Largest gap {figures.WithUncertainty(gapNow.GapMm, gapNow.GapUncertaintyMm)} -> {figures.Sentence(gapThen.GapMm, gapThen.GapUncertaintyMm)}, "
            + $"largest bow {figures.WithUncertainty(bowNow.BowMm, bowNow.BowUncertaintyMm)} -> {figures.Sentence(bowThen.BowMm, bowThen.BowUncertaintyMm)}.");
        page.Notes(report.Notes);
    }
}
