using DeflectScan.Desk;
using Spectre.Console;

namespace DeflectScan.Cli.Display.Desk;

/// <summary>Tables of layouts that the desk judged.</summary>
internal static class DeskTables
{
    public static Table Guides(JudgedLayout layout, JudgedLayout? before, Figures figures, TableBorder border)
    {
        bool reelKnown = layout.Guides.Any(g => g.FromReelMm is not null);
        List<(string, bool)> heads = [("Guide", false)];
        if (before is not null)
            heads.Add(("Was", false));
        heads.AddRange(figures.InchesFirst ? [("Station in", true), ("1/16 in", true), ("mm", true)] : [("Station mm", true), ("in", true), ("1/16 in", true)]);
        if (before is not null)
            heads.Add(($"Shift {figures.UnitName}", true));
        if (reelKnown)
            heads.Add(($"From reel {figures.UnitName}", true));
        heads.Add(($"Height {figures.UnitName}", true));
        if (before is not null)
            heads.Add(("Angle now", true));
        heads.Add((before is null ? "Line angle" : "Angle then", true));
        Table table = Make(border, heads);
        foreach (JudgedGuide g in layout.Guides)
        {
            JudgedGuide? was = g.MeasuredAs is { } i ? before?.Guides[i - 1] : null;
            List<string> cells = [Name(layout, g.Guide)];
            if (before is not null)
                cells.Add(was is null ? "new" : Name(before, was.Guide));
            cells.AddRange(figures.InchesFirst
                ? [Figures.BareInches(g.StationMm), Figures.BareSixteenths(g.StationMm), Figures.BareMm(g.StationMm)]
                : [Figures.BareMm(g.StationMm), Figures.BareInches(g.StationMm), Figures.BareSixteenths(g.StationMm)]);
            if (before is not null)
                cells.Add(was is null || Math.Abs(g.StationMm - was.StationMm) < 1e-9 ? "" : Signed(figures, g.StationMm - was.StationMm));
            if (reelKnown)
                cells.Add(g.FromReelMm is { } reel ? figures.Bare(reel) : "–");
            cells.Add(figures.WithUncertainty(g.HeightMm, g.HeightUncertaintyMm));
            if (before is not null)
                cells.Add(Angle(was));
            cells.Add(Angle(g));
            Row(table, cells, strong: before is not null && (was is null || was.StationMm != g.StationMm));
        }

        return table;
    }

    public static Table Pairs(JudgedLayout layout, Figures figures, TableBorder border)
    {
        Table table = Make(border, [("Pair", false), ("Gap", true), ("Bow", true), ("Clearance", true), ("", false)]);
        foreach (JudgedPair p in layout.Pairs)
        {
            bool gap = p == layout.LargestGap, bow = p == layout.LargestBow;
            bool worst = p == layout.FollowsWorst;
            string mark = string.Join(", ", new[] { worst ? "follows worst" : "", gap ? "largest gap" : "", bow ? "largest bow" : "" }.Where(t => t.Length > 0));
            string touch = p.MayTouch ? "may touch the blank" : p.TouchesBlank ? "touches the blank" : "";
            Row(
                table,
                [
                    Pair(layout, p), figures.WithUncertainty(p.GapMm, p.GapUncertaintyMm), figures.WithUncertainty(p.BowMm, p.BowUncertaintyMm),
                    figures.WithUncertainty(p.ClearanceMm, p.ClearanceUncertaintyMm), string.Join(", ", new[] { mark, touch }.Where(t => t.Length > 0)),
                ],
                strong: worst);
        }

        return table;
    }

    /// <summary>"4 to 5", "7 to tip-top".</summary>
    public static string Pair(JudgedLayout layout, JudgedPair p) => $"{Name(layout, p.From)} to {Name(layout, p.To)}";

    public static string Name(JudgedLayout layout, int guide) => layout.Guides[guide - 1].IsTip ? "tip-top" : $"{guide}";

    public static Table Make(TableBorder border, IEnumerable<(string Head, bool Right)> heads)
    {
        Table table = new() { Border = border };
        foreach ((string head, bool right) in heads)
            table.AddColumn(new TableColumn(new Text(head)) { NoWrap = true, Alignment = right ? Justify.Right : Justify.Left });
        return table;
    }

    public static void Row(Table table, IEnumerable<string> cells, bool strong = false) =>
        table.AddRow(cells.Select(c => new Text(c, new Style(decoration: strong ? Decoration.Bold : Decoration.None))));

    public static string Signed(Figures figures, double mm) => (mm > 0 ? "+" : "") + figures.Bare(mm);

    private static string Angle(JudgedGuide? g) => g?.LineAngleDeg is { } deg ? $"{deg:0.0} ±{Math.Ceiling((g.LineAngleUncertaintyDeg!.Value * 10) - 1e-9) / 10:0.0}°" : "–";
}
