using DeflectScan.Bending;
using DeflectScan.Cli.Display.Desk;
using DeflectScan.Cli.Running;
using DeflectScan.Geometry;
using DeflectScan.Mechanics.Stiffness;
using Spectre.Console;

namespace DeflectScan.Cli.Display.Bending;

/// <summary>A blank in plain engineering terms on standard output.</summary>
internal sealed class BlankDisplay(Terminal terminal, Figures figures, bool stiffness)
{
    private readonly DeskPage _page = new(terminal, figures.Unit);

    public void Show(BlanksReport report)
    {
        foreach (BlankFigures blank in report.Blanks)
            One(blank);
        _page.Cautions(report.Cautions);
        if (report.SecondOverFirst is { } compared)
            Compared(compared);
        _page.Notes([.. report.Blanks.SelectMany(b => b.Warnings).Distinct(StringComparer.Ordinal)]);
    }

    private void One(BlankFigures blank)
    {
        _page.Title(blank.Name);
        _page.Strong(blank.InWords);
        _page.Line($"Free length {figures.Full(blank.Blank.LengthMm)}; in the photo the tip turns by {blank.MeasuredTipTurnDeg:0.0}°{(blank.Blank.ReferenceLoadN is { } n ? $" under {ForceText.All(n)}" : "")}.");
        _page.Line(BendDisplay.Told(blank.Blank, figures));
        TurningShares t = blank.MeasuredTurning;
        _page.Line($"It turns {100 * t.Tip:0} % in the tip third, {100 * t.Middle:0} % in the middle third, {100 * t.Butt:0} % in the butt third.");
        _page.Heading("Load to a tip turn", "standard bend: the bare blank, straight and weightless, pulled at 135° to the butt, as a weight hangs from a rod held at 45°");
        Table loads = DeskTables.Make(_page.Border, [("Tip turn", true), (blank.Blank.ReferenceLoadN is null ? "Load over photographed" : figures.InchesFirst ? "Load N (lb)" : "Load N", true), ("Tip third", true), ("Middle third", true), ("Butt third", true)]);
        foreach (LoadToTurn l in blank.Loads)
        {
            DeskTables.Row(loads,
            [
                $"{l.TipTurnDeg:0}°", $"{(l.LoadN is { } load ? $"{load:0.0#}{(figures.InchesFirst ? $" ({ForceText.Pounds(load):0.0#})" : "")}" : $"{l.LoadFactor:0.000}")} ±{Up(l.LoadUncertaintyShare)} %",
                Share(l.Turning.Tip, l.TurningUncertainty.Tip), Share(l.Turning.Middle, l.TurningUncertainty.Middle), Share(l.Turning.Butt, l.TurningUncertainty.Butt),
            ]);
        }

        _page.Write(loads);
        if (!stiffness)
        {
            _page.Line("The stiffness along the blank: --stiffness, or --stations for places of your own.");
            return;
        }

        bool absolute = blank.Blank.ReferenceLoadN is not null;
        _page.Heading("Stiffness", $"from the tip; {(absolute ? "EI in N·m²" : "EI over the photographed load in m², as no load was read")}; curvature at the photographed load");
        Table stations = DeskTables.Make(_page.Border, [($"Station {figures.UnitName}", true), (absolute ? "EI N·m²" : "EI/F m²", true), ("Uncertainty", true), ("Curvature 1/m", true), ("", false)]);
        foreach (StiffnessAt s in blank.Stations)
        {
            DeskTables.Row(
                stations,
                [figures.Bare(s.StationMm), $"{s.StiffnessNm2 ?? s.StiffnessOverLoadM2:G3}", $"±{Up(s.UncertaintyShare)} %", $"{s.CurvaturePerM:0.000}", s.IsTold ? "" : "continued, not told by the photos"]);
        }

        _page.Write(stations);
        _page.Line("");
    }

    private void Compared(BlanksCompared compared)
    {
        _page.Heading("Second blank over first", compared.IsAbsolute ? "stiffness EI at the same share of the length" : "EI over each one's own photographed load: give --load when measuring for the stiffness itself");
        Table table = DeskTables.Make(_page.Border, [("From tip", true), ("Ratio", true), ("Uncertainty", true), ("", false)]);
        foreach (StiffnessRatio s in compared.Stations.Where((_, i) => i % 2 == 0))
            DeskTables.Row(table, [$"{100 * s.ShareFromTip:0} %", $"{s.Ratio:0.00}", $"±{Up(s.UncertaintyShare)} %", s.IsTold ? "" : "not told by both"]);
        _page.Write(table);
        foreach (LoadRatioAtTurn l in compared.Loads.Where(l => l.Ratio is not null))
            _page.Line($"  To turn the tip by {l.TipTurnDeg:0}° the second takes {l.Ratio:0.00} times the first's load (±{Up(l.UncertaintyShare)} %).");
    }

    private static string Up(double share) => $"{Math.Ceiling((share * 1000) - 1e-9) / 10:0.0}";

    private static string Share(double share, double uncertainty) => $"{100 * share:0} ±{Math.Ceiling((uncertainty * 100) - 1e-9):0} %";
}
