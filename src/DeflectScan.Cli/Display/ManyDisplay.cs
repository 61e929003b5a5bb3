using DeflectScan.Cli.Running;
using DeflectScan.Reporting;
using Spectre.Console;

namespace DeflectScan.Cli.Display;

/// <summary>Many photos in a table, one line each.</summary>
internal sealed class ManyDisplay(Terminal terminal, Figures figures)
{
    private readonly IAnsiConsole _console = terminal.Tables();

    public void Show(IReadOnlyList<MeasuredFile> files)
    {
        Table table = new() { Border = terminal.OutIsTerminal ? TableBorder.Simple : TableBorder.None };
        foreach (string column in new[] { "Photo", "Status", "Guides", "Follows worst", "What to do" })
            table.AddColumn(new TableColumn(new Text(column)) { NoWrap = !terminal.OutIsTerminal || column != "What to do", Alignment = column == "Guides" ? Justify.Right : Justify.Left });
        foreach (MeasuredFile f in files)
        {
            table.AddRow(
                new Text(SafeText.Of(f.File)),
                Status(f.Measurement),
                new Text(f.Measurement is { } m && InBrief.Guides(m) is { } n ? $"{n}" : "–"),
                new Text((f.Measurement is { } w ? InBrief.Worst(w, figures.Unit) : null) ?? "–"),
                new Text(SafeText.Of(CommandWords.Of((f.Measurement is { } t ? InBrief.ToDo(t, figures.Unit) : f.Problem) ?? "–"))));
        }

        _console.Profile.Width = terminal.OutIsTerminal ? terminal.Width : 10_000;
        _console.Write(table);
        _console.Write(new Text(Count(files) + "\n", new Style(decoration: Decoration.Bold)));
    }

    private static Text Status(Measurement? m)
    {
        Color colour = m?.Status switch { MeasurementStatus.Ok => Color.Green, MeasurementStatus.NeedsReview => Color.Yellow, _ => Color.Red };
        return new Text(m is null ? "failed" : InBrief.Status(m), new Style(colour));
    }

    private static string Count(IReadOnlyList<MeasuredFile> files)
    {
        int Of(MeasurementStatus status) => files.Count(f => f.Measurement?.Status == status);
        string[] parts =
        [
            $"{Of(MeasurementStatus.Ok)} ok",
            .. Part(Of(MeasurementStatus.NeedsReview), Of(MeasurementStatus.NeedsReview) == 1 ? "needs review" : "need review"),
            .. Part(Of(MeasurementStatus.Refused), "refused"),
            .. Part(files.Count(f => f.Measurement is null), "failed"),
        ];
        return $"{Counted.Of(files.Count, "photo")}: {string.Join(", ", parts)}.";
    }

    private static string[] Part(int count, string words) => count == 0 ? [] : [$"{count} {words}"];
}
