using DeflectScan.Cli.Running;
using DeflectScan.Desk;
using DeflectScan.Geometry;
using DeflectScan.Layout.OnRings;
using Spectre.Console;

namespace DeflectScan.Cli.Display.Desk;

/// <summary>The line on the rings at the bench.</summary>
internal sealed class RingsDisplay(Terminal terminal, Figures figures)
{
    public void Show(RingsReport report, string name)
    {
        DeskPage page = new(terminal, figures.Unit);
        string motion = report.Motion switch { LineMotion.TowardReel => "line wound in", LineMotion.TowardTip => "line taken out", _ => "line still" };
        page.Title($"{name}: the line on the rings, {(figures.InchesFirst ? figures.Force(report.PullN) : $"{report.PullN:0.##} N")} beyond the tip-top, {motion}");
        page.Heading("Guides", $"load: 2 T sin(θ/2) without friction; friction {report.Friction:0.00}");
        bool moves = report.Motion != LineMotion.Still;
        List<(string, bool)> heads = [("Guide", false), ("Station " + figures.UnitName, true), ("Line angle", true), (figures.InchesFirst ? "Load N (lb)" : "Load N", true), ("Share", true)];
        if (moves)
            heads.AddRange([("Pull reel's side N", true), ("Pull tip's side N", true)]);
        heads.Add(("", false));
        Table table = DeskTables.Make(page.Border, heads);
        RingFigures? most = report.Rings.Where(r => r.Kind != "tip").MaxBy(r => r.LoadN);
        foreach (RingFigures r in report.Rings)
        {
            List<string> cells = [r.Kind == "tip" ? "tip-top" : $"{r.Guide}", figures.Bare(r.StationMm), Figures.Degrees(r.LineAngleDeg), $"{r.LoadN:0.00}{(figures.InchesFirst ? $" ({ForceText.Pounds(r.LoadN):0.00})" : "")}", $"{100 * r.Share:0} %"];
            if (moves)
                cells.AddRange([$"{r.PullReelwardN:0.00}", $"{r.PullTipwardN:0.00}"]);
            cells.Add(string.Join(", ", new[] { r == most ? "carries most of the guides" : "", r.Kink ? "kink" : "" }.Where(t => t.Length > 0)));
            DeskTables.Row(table, cells, strong: r == most || r.Kink);
        }

        page.Write(table);
        if (moves)
            page.Line($"Pull at the reel {(figures.InchesFirst ? figures.Force(report.PullAtReelN) : $"{report.PullAtReelN:0.00} N")}; friction along the rod makes the pulls at both ends differ by a factor of {report.FrictionFactor:0.00}.");
        foreach (OnBlank c in report.OnBlank)
        {
            page.Strong($"Between guide {c.From} and {(c.To == report.Rings[^1].Guide && report.Rings[^1].Kind == "tip" ? "the tip-top" : $"guide {c.To}")} the line lies on the blank "
                + $"from {figures.Full(c.StartMm)} to {figures.Full(c.EndMm)} from the tip, turning through {c.WrapDeg:0.0}°.");
        }

        if (report.Onset is { } onset)
        {
            string when = onset.OfMeasuredBend <= 1 ? "already touches" : "would touch";
            page.Line($"The line {when} the blank after guide {onset.From} from a bend of {onset.TipTurnDeg:0}° on (measured: {report.TipTurnDeg:0}°), the bend keeping its form.");
        }

        page.Notes(report.Notes);
    }
}
