using DeflectScan.Geometry;
using DeflectScan.Tracing;
using Spectre.Console;

namespace DeflectScan.Cli.Display;

/// <summary>The two tables of a measurement: guides, and the pairs between them.</summary>
internal static class MeasurementTables
{
    public static Table Guides(Measurement m, Figures figures, TableBorder border)
    {
        bool reelKnown = m.Guides.Any(g => g.FromReelMm is not null);
        Table table = new() { Border = border };
        Column(table, "Guide", rightAligned: false);
        string[] units = figures.InchesFirst ? ["in", "1/16 in", "mm"] : ["mm", "in", "1/16 in"];
        foreach (string unit in units)
            Column(table, unit == units[0] ? "Station " + unit : unit);
        if (reelKnown)
            Column(table, "From reel " + figures.UnitName);
        Column(table, "Height " + figures.UnitName);
        Column(table, "Line angle");
        Column(table, "Source", rightAligned: false);
        foreach (GuideReport g in m.Guides)
        {
            List<string> cells = [Name(m, g.Index), figures.WithUncertainty(g.Station)];
            cells.AddRange(figures.InchesFirst
                ? [Figures.BareSixteenths(g.StationMm), Figures.BareMm(g.StationMm)]
                : [Figures.BareInches(g.StationMm), Figures.BareSixteenths(g.StationMm)]);
            if (reelKnown)
                cells.Add(g.FromReelMm is not { } reel ? "–" : g.FromReelUncertaintyMm is { } u ? figures.WithUncertainty(new MeasuredLength(reel, u)) : figures.Bare(reel));
            cells.Add(figures.WithUncertainty(g.Height));
            cells.Add(Figures.Degrees(g.LineAngleDeg));
            cells.Add(Word(g.Source));
            Row(table, cells, strong: false);
        }

        return table;
    }

    public static Table Pairs(Measurement m, Figures figures, TableBorder border)
    {
        Table table = new() { Border = border };
        Column(table, "Pair", rightAligned: false);
        Column(table, "Gap");
        Column(table, "Bow");
        Column(table, "Clearance");
        Column(table, "Line", rightAligned: false);
        Column(table, "", rightAligned: false);
        foreach (IntervalReport i in m.Intervals)
        {
            bool gap = m.Largest is { } l && (l.GapFrom, l.GapTo) == (i.From, i.To);
            bool bow = m.Largest is { } b && (b.BowFrom, b.BowTo) == (i.From, i.To);
            bool worst = i == m.SureWorst();
            string mark = string.Join(", ", new[] { worst ? "follows worst" : "", gap ? "largest gap" : "", bow ? "largest bow" : "", m.InDoubt(i) ? "in doubt" : "" }.Where(t => t.Length > 0));
            string line = i.TouchesBlank ? $"{Word(i.Source)}, touches the blank" : Word(i.Source);
            Row(
                table,
                [
                    Pair(m, i), figures.WithUncertainty(i.Gap), figures.WithUncertainty(i.Bow),
                    figures.Bare(i.ClearanceMm), line, mark,
                ],
                strong: worst);
        }

        return table;
    }

    /// <summary>What a pair is judged by: its bow inside the bend, outside its clearance, which is about as sure as its gap.</summary>
    public static string WorstBy(Measurement m, IntervalReport i, Figures figures) => m.Side == BendSide.Outside
        ? $"clearance {figures.Sentence(i.Clearance)}"
        : $"bow {figures.Sentence(i.Bow)}";

    /// <summary>"4 to 5", "7 to tip-top".</summary>
    public static string Pair(Measurement m, IntervalReport i) => $"{Name(m, i.From)} to {Name(m, i.To)}";

    public static string Name(Measurement m, int index) => m.Guides.Any(g => g.Index == index && g.IsTip) ? "tip-top" : index.ToString();

    private static string Word(Source source) => source switch
    {
        Source.Traced => "seen",
        Source.Inferred => "inferred",
        _ => "marked",
    };

    private static void Column(Table table, string header, bool rightAligned = true)
    {
        TableColumn column = new(new Text(header)) { NoWrap = true, Alignment = rightAligned ? Justify.Right : Justify.Left };
        table.AddColumn(column);
    }

    private static void Row(Table table, IEnumerable<string> cells, bool strong) =>
        table.AddRow(cells.Select(c => new Text(c, new Style(decoration: strong ? Decoration.Bold : Decoration.None))));
}
