using DeflectScan.Cli.Running;
using DeflectScan.Teaching;
using Spectre.Console;

namespace DeflectScan.Cli.Display;

/// <summary>A class in a table, and what stands out.</summary>
internal sealed class ClassDisplay(Terminal terminal, Figures figures)
{
    private readonly IAnsiConsole _console = terminal.Tables();

    public void Show(ClassReport report)
    {
        Table table = new() { Border = terminal.OutIsTerminal ? TableBorder.Simple : TableBorder.None };
        string[] columns = ["Rod", "", $"Bow, {figures.UnitName}", "Best", "Gap", "Clearance", "Guides"];
        foreach (string column in columns)
            table.AddColumn(new TableColumn(new Text(column)) { NoWrap = column != "", Alignment = column is "Rod" or "" ? Justify.Left : Justify.Right });
        foreach (ClassRod r in report.Rods)
        {
            table.AddRow(
                new Text(SafeText.Of(r.Name)),
                new Text(SafeText.Of(r.Standing switch { RodStanding.Measured => "measured", RodStanding.LookFirst => $"look first: {figures.InUnit(r.Why ?? "")}", _ => $"not measured: {figures.InUnit(r.Why ?? "")}" })),
                new Text(r.Bow is { } bow ? figures.WithUncertainty(bow.Mm, bow.UncertaintyMm) : "–"),
                new Text(figures.Bare(r.BestBowMm) ?? "–"),
                new Text(r.Gap is { } gap ? figures.WithUncertainty(gap.Mm, gap.UncertaintyMm) : "–"),
                new Text(r.Clearance is { } clear ? figures.Bare(clear.Mm) : "–"),
                new Text(r.Guides is { } n ? $"{n}" : "–"));
        }

        _console.Profile.Width = terminal.OutIsTerminal ? terminal.Width : 10_000;
        _console.Write(table);
        foreach (string sentence in report.StandsOut)
            _console.Write(new Text(SafeText.Of(figures.InUnit(sentence)) + "\n"));
    }
}
