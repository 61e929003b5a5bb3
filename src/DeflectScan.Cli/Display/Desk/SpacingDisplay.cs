using System.Globalization;
using DeflectScan.Cli.Running;
using DeflectScan.Desk;
using DeflectScan.Layout.Spacing;
using Spectre.Console;

namespace DeflectScan.Cli.Display.Desk;

/// <summary>The best spacing and its curve at the bench.</summary>
internal sealed class SpacingDisplay(Terminal terminal, Figures figures)
{
    public void Show(SpacingReport report, string name)
    {
        DeskPage page = new(terminal, figures.Unit);
        string what = report.Goal == SpacingGoal.Bow ? "bow" : "gap";
        page.Title($"{name}: best spacing of the running guides");
        page.Line($"{report.Held} {(report.Held == 1 ? "guide stays" : "guides stay")}, counted from the reel; the others make the largest {what} as small as it can be.");
        page.Heading("Number of guides", $"in {figures.UnitWord}; largest of the running guides' pairs, best spacing for each number");
        page.Write(Curve(report, page.Border));
        if (report.Layout is { } layout)
        {
            page.Heading("Guides", "station: along the blank from the tip-top; shift: + towards the reel");
            page.Write(DeskTables.Guides(layout, report.Before, figures, page.Border));
            page.Heading("Pairs", $"in {figures.UnitWord}; predicted on the same bend");
            page.Write(DeskTables.Pairs(layout, figures, page.Border));
        }

        page.Notes(report.Notes);
    }

    private Table Curve(SpacingReport report, TableBorder border)
    {
        List<(string, bool)> heads = [("Guides", true), ("Running", true), ("Running bow", true), ("Running gap", true), ("Takes off", true)];
        if (report.MassPerGuideG is not null)
            heads.Add(("Running mass g", true));
        heads.Add(("", false));
        Table table = DeskTables.Make(border, heads);
        foreach (SpacingStep s in report.Curve)
        {
            List<string> cells =
            [
                s.Guides.ToString(CultureInfo.InvariantCulture), s.RunningGuides.ToString(CultureInfo.InvariantCulture), figures.Bare(s.LargestBowMm), figures.Bare(s.LargestGapMm),
                s.TakesOffMm is { } off ? figures.Bare(off) : "",
            ];
            if (report.MassPerGuideG is not null)
                cells.Add($"{s.RunningMassG:0.0}");
            cells.Add(s.Guides == report.PaysUpTo ? "one more does not pay" : "");
            DeskTables.Row(table, cells, strong: s.Guides == report.Layout?.Guides.Count - 1);
        }

        return table;
    }
}
