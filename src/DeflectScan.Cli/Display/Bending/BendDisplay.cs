using DeflectScan.Bending;
using DeflectScan.Cli.Display.Desk;
using DeflectScan.Cli.Running;
using DeflectScan.Findings;
using DeflectScan.Geometry;
using Spectre.Console;

namespace DeflectScan.Cli.Display.Bending;

/// <summary>Bends at other loads as a builder reads them.</summary>
internal sealed class BendDisplay(Terminal terminal, Figures figures)
{
    private readonly DeskPage _page = new(terminal, figures.Unit);

    public void Show(BendReport report, string rod)
    {
        _page.Title($"{rod}: the blank at other loads");
        _page.Cautions(report.Cautions);
        Known(report.Blank);
        _page.Heading("Bends", $"{figures.UnitName}; tip: how far its place may be off where the blank is held as in the photo; bows of the running guides");
        _page.Write(Bends(report));
        _page.Heading("Gaps and bows of the present layout", $"{figures.UnitName}, at each bend");
        _page.Write(Pairs(report));
        if (report.BestOverRange is { } best)
            Range(best);
        if (report.Line is { } line)
            Line(line, report.Bends[0].Present.StationsMm.Count);
        _page.Notes(InShort.Of([.. report.Warnings, .. report.Bends.SelectMany(b => b.Warnings), .. report.Line?.Warnings ?? []]));
    }

    public static string Told(KnownOfBlank blank, Figures figures) => blank.Told.Count == 0
        ? "The photos tell its stiffness nowhere."
        : $"Stiffness told by the photos from the tip: {string.Join(", ", blank.Told.Select(t => $"{figures.Bare(t.FromMm)} to {figures.Bare(t.ToMm)}"))} {figures.UnitName}; elsewhere it is a smooth continuation.";

    private void Known(KnownOfBlank blank)
    {
        string load = blank.ReferenceLoadN is { } n ? $"photographed load {ForceText.All(n)}" : "photographed load not known, so loads are multiples of it";
        _page.Line($"Free length {figures.Full(blank.LengthMm)}; {(blank.Photos == 1 ? "one loaded photo" : $"{blank.Photos} loaded photos")}; {load}.");
        _page.Line(Told(blank, figures));
        foreach (LoadRatio r in blank.LoadRatios)
            _page.Line($"A further photo shows {r.Ratio:0.000} ±{r.Uncertainty:0.000} of the reference's load.");
    }

    private Table Bends(BendReport report)
    {
        Table table = DeskTables.Make(
            _page.Border,
            [("Asked", false), ("Load", true), ("Tip turn", true), ("Tip", true), ("Largest gap", true), ("Running bow", true), ("Least possible", true), ("Best over range", true), ("", false)]);
        foreach (BendCase b in report.Bends)
        {
            BendPair gap = b.Pairs.MaxBy(p => p.GapMm)!;
            DeskTables.Row(
                table,
                [
                    b.Asked, Load(b), Turn(b), $"±{figures.Bare(UnitsText.RoundedUp(b.TipUncertaintyMm, 0.1))}", figures.WithUncertainty(gap.GapMm, gap.GapUncertaintyMm),
                    figures.Bare(b.Present.LargestBowMm), b.Best is { } best ? figures.Bare(best.LargestBowMm) : "–", b.OverRange is { } over ? figures.Bare(over.LargestBowMm) : "–",
                    b.BeyondMeasured ? "beyond the photographed load" : "",
                ],
                strong: b.LoadFactor == 1);
        }

        return table;
    }

    private string Load(BendCase b)
    {
        string share = b.LoadUncertaintyShare > 0 ? $" ±{Math.Ceiling((b.LoadUncertaintyShare * 1000) - 1e-9) / 10:0.0} %" : "";
        return (b.LoadN is { } n ? figures.Force(n) : $"{b.LoadFactor:0.00#}x") + share;
    }

    private static string Turn(BendCase b) =>
        b.TipTurnUncertaintyDeg > 0 ? $"{b.TipTurnDeg:0.0} ±{Math.Ceiling((b.TipTurnUncertaintyDeg * 10) - 1e-9) / 10:0.0}°" : $"{b.TipTurnDeg:0.0}°";

    private Table Pairs(BendReport report)
    {
        Table table = DeskTables.Make(_page.Border, [("Pair", false), .. report.Bends.SelectMany(b => new[] { ($"Gap {b.Asked}", true), ($"Bow {b.Asked}", true) })]);
        int guides = report.Bends[0].Pairs.Count + 1;
        for (int i = 0; i < guides - 1; i++)
        {
            int at = i;
            string pair = $"{i + 1} to {(i + 2 == guides ? "tip-top" : $"{i + 2}")}";
            DeskTables.Row(table, [pair, .. report.Bends.SelectMany(b => new[] { Figure(b.Pairs[at].GapMm, b.Pairs[at].GapUncertaintyMm), Figure(b.Pairs[at].BowMm, b.Pairs[at].BowUncertaintyMm) })]);
        }

        return table;
        string Figure(double mm, double u) => figures.WithUncertainty(mm, u);
    }

    private void Range(RangeLayout best)
    {
        _page.Heading("Layout that is best over all these bends", $"stations from the tip-top, {figures.UnitName}");
        _page.Line("  " + string.Join(", ", best.StationsMm.SkipLast(1).Select(figures.Bare)));
        _page.Line($"  Its largest running bow is at most {best.WorstRatio:0.00} times the least possible at any of them; the present layout's {best.PresentWorstRatio:0.00} times.");
    }

    private void Line(LineBendReport line, int guides)
    {
        string tension = line.TensionN is { } n ? figures.Force(n) : $"{line.TensionFactor:0.00}x the photographed load";
        _page.Heading("Pulled through the line over the rings", tension);
        _page.Line($"  Tip turn {line.TipTurnDeg:0.0}° where the cord would give {line.CordTipTurnDeg:0.0}°; the tip lies {figures.Bare(line.TipShiftMm)} {figures.UnitName} off, no part of the blank more than {figures.Bare(line.LargestShiftMm)}.");
        Table table = DeskTables.Make(_page.Border, [("Guide", false), ($"Station {figures.UnitName}", true), ("Line angle", true), (line.TensionN is null ? "Load on ring over photographed" : $"Load on ring N{(figures.InchesFirst ? " (lb)" : "")}", true)]);
        foreach (RingPush r in line.Rings)
            DeskTables.Row(table, [r.Guide == guides ? "tip-top" : $"{r.Guide}", figures.Bare(r.StationMm), $"{r.LineAngleDeg:0.0}°", r.LoadN is { } load ? $"{load:0.00}{(figures.InchesFirst ? $" ({ForceText.Pounds(load):0.00})" : "")}" : $"{r.LoadFactor:0.000}"]);
        _page.Write(table);
    }
}
