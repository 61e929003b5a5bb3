using DeflectScan.Cli.Running;
using DeflectScan.Records.Comparing;
using DeflectScan.Records.Model;
using DeflectScan.Records.Reports;
using Spectre.Console;

namespace DeflectScan.Cli.Display;

/// <summary>A comparison as tables and as JSON.</summary>
internal static class ComparisonTables
{
    public static void Show(Terminal terminal, Figures figures, Comparison c, StoredMeasurement before, StoredMeasurement after)
    {
        terminal.Out.WriteLine(SafeText.Of($"Before: {Test(before)}; after: {Test(after)}"));
        terminal.Out.WriteLine(figures.InUnit($"On one axis: {c.Shape.CommonMm:0} mm from the tip lie within {c.Shape.LargestMm:0.0} mm of each other ({c.Shape.RmsMm:0.0} mm rms)"));
        Table guides = BuildTables.Make(terminal, [], ["Guide before", "Guide after", "Station before " + figures.UnitName, "after", "moved"], []);
        foreach (GuideMatch g in c.Guides)
            guides.AddRow(Cell(Name(c.Before, g.Before)), Cell(Name(c.After, g.After)), Cell(figures.Bare(g.BeforeMm)), Cell(figures.Bare(g.AfterMm)), Cell(figures.Change(g.MovedMm, g.UncertaintyMm, isSure: true)));
        terminal.Tables().Write(guides);
        Table pairs = BuildTables.Make(terminal, ["Pair before", "Pair after"], ["Gap before " + figures.UnitName, "after", "change", "Bow before " + figures.UnitName, "after", "change"], []);
        foreach (PairMatch p in c.Pairs)
        {
            pairs.AddRow(
                Cell(p.Before is { } b ? $"{b.From} to {Name(c.Before, b.To)}" : null), Cell(p.After is { } a ? $"{a.From} to {Name(c.After, a.To)}" : null), Cell(figures.Bare(p.Before?.GapMm)), Cell(figures.Bare(p.After?.GapMm)), Cell(By(p.Gap)),
                Cell(figures.Bare(p.Before?.BowMm)), Cell(figures.Bare(p.After?.BowMm)), Cell(By(p.Bow)));
        }

        terminal.Tables().Write(pairs);
        foreach (string change in c.Changes)
            terminal.Out.WriteLine(figures.InUnit(change));
        string? By(Change? change) => ComparisonTables.By(figures, change);
        static string Test(StoredMeasurement m) => string.IsNullOrWhiteSpace(m.Label) ? $"{m.MadeAt:yyyy-MM-dd HH:mm}" : $"{m.MadeAt:yyyy-MM-dd HH:mm}, {m.Label}";
    }

    public static void ShowHistory(Terminal terminal, Figures figures, IReadOnlyList<HistoryStep> steps, bool json)
    {
        if (json)
        {
            terminal.Out.WriteLine(ComparisonJson.History(steps).ToJsonString());
            return;
        }

        string unit = figures.UnitName;
        Table table = BuildTables.Make(terminal, ["Made", "Label", "Follows worst"], ["by " + unit, "change", "Guides", "Tip turn", "Largest gap " + unit, "change", "Largest bow " + unit, "change"], []);
        foreach (HistoryStep s in steps)
        {
            table.AddRow(
                Cell($"{s.Measurement.MadeAt:yyyy-MM-dd HH:mm}"), Cell(s.Measurement.Label), Cell(s.Worst is { } w ? $"{w.Name}, {w.By}" : null),
                Cell(figures.Bare(s.Worst?.Mm)), Cell(By(figures, s.WorstChange)), Cell($"{s.Measurement.GuideCount}"), Cell($"{s.Measurement.TipTurnDeg:0.0}°"),
                Cell(figures.Bare(s.Measurement.LargestGapMm)), Cell(By(figures, s.Gap)), Cell(figures.Bare(s.Measurement.LargestBowMm)), Cell(By(figures, s.Bow)));
        }

        terminal.Tables().Write(table);
    }

    private static string? By(Figures figures, Change? c) => c is null ? null : figures.Change(c.ByMm, c.UncertaintyMm, c.IsSure);

    private static string? Name(Measurement m, int? guide) => guide is { } index ? MeasurementTables.Name(m, index) : null;

    private static Text Cell(string? text) => BuildTables.Cell(text);
}
