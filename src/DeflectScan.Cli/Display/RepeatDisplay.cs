using DeflectScan.Cli.Running;
using DeflectScan.Geometry;
using DeflectScan.Repeating;
using Spectre.Console;

namespace DeflectScan.Cli.Display;

/// <summary>Several photos of one set-up as a person reads them.</summary>
internal sealed class RepeatDisplay(Terminal terminal, Figures figures)
{
    private readonly IAnsiConsole _console = terminal.Tables();

    public void Show(RepeatReport report)
    {
        Line($"{report.Photos.Count(p => p.Used)} of {report.Photos.Count} photos together: {report.Status switch { MeasurementStatus.Ok => "ok", MeasurementStatus.NeedsReview => "needs review", _ => "refused" }}", bold: true);
        if (report.SpreadOverStated is { } ratio)
            Line($"They differ {ratio:0.00} times as much as each alone states; the ± does not shrink, since cards and lens are the same in all.");
        if (report.Figures.Count > 0)
        {
            Table table = new() { Border = terminal.OutIsTerminal ? TableBorder.Simple : TableBorder.None };
            foreach (string column in new[] { "Figure", figures.UnitName, "Spread", "Stated" })
                table.AddColumn(new TableColumn(new Text(column)) { NoWrap = true, Alignment = column == "Figure" ? Justify.Left : Justify.Right });
            int tip = report.Figures.Max(f => f.To ?? f.From);
            string Guide(int index) => index == tip ? "tip-top" : $"{index}";
            foreach (RepeatedFigure f in report.Figures)
            {
                string name = f.To is { } to ? $"{f.Name} {f.From} to {Guide(to)}" : $"{f.Name} {Guide(f.From)}";
                table.AddRow(
                    new Text(name), new Text(figures.WithUncertainty(f.ValueMm, f.UncertaintyMm)),
                    new Text(f.SpreadMm is { } s ? (figures.InchesFirst ? $"{s / UnitsText.MmPerInch:0.000}" : $"{s:0.00}") : ""), new Text($"±{figures.WithUncertainty(0, f.StatedMm).Split('±')[1]}"));
            }

            _console.Write(table);
        }

        if (report.Typical is { } typical)
            Line($"Nearest to the means: {report.Photos[typical].File}.");
        foreach (string note in report.Notes)
            Line(figures.InUnit(note));
    }

    private void Line(string text, bool bold = false) =>
        _console.Write(new Text(SafeText.Of(text) + "\n", new Style(decoration: bold ? Decoration.Bold : Decoration.None)));
}
