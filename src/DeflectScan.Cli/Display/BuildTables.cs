using DeflectScan.Cli.Running;
using DeflectScan.Records.Finding;
using DeflectScan.Records.Model;
using Spectre.Console;

namespace DeflectScan.Cli.Display;

/// <summary>Builds and what belongs to them as tables.</summary>
internal static class BuildTables
{
    public static Table Summaries(IReadOnlyList<BuildSummary> builds, Figures figures, Terminal terminal)
    {
        Table table = Make(terminal, ["Build", "Id", "Owner", "Blank"], ["Length " + figures.UnitName, "Reel", "Tip turn"], ["Follows worst, " + figures.UnitName, "Tests", "Changed"]);
        foreach (BuildSummary b in builds)
        {
            table.AddRow(
                Cell(b.Name), Cell(ShortId(b.Id)), Cell(b.Owner), Cell(b.Blank), Cell(figures.Whole(b.BlankLengthMm)), Cell(b.ReelClass?.ToString()),
                Cell(b.TipTurnDeg is { } turn ? $"{turn:0}°" : null), Cell(Worst(figures, b.Worst)), Cell(b.MeasurementCount.ToString()), Cell($"{b.ChangedAt:yyyy-MM-dd}"));
        }

        return table;
    }

    public static Table Found(IReadOnlyList<FoundBuild> found, Figures figures, Terminal terminal)
    {
        Table table = Make(terminal, ["Build", "Id"], ["Likeness", "Length " + figures.UnitName], ["Follows worst, " + figures.UnitName, "Why"]);
        foreach (FoundBuild f in found)
        {
            table.AddRow(
                Cell(f.Build.Name), Cell(ShortId(f.Build.Id)), Cell($"{f.Likeness * 100:0} %"), Cell(figures.Whole(f.Build.BlankLengthMm)), Cell(Worst(figures, f.Build.Worst)),
                Cell(figures.InUnit(f.Reason)));
        }

        return table;
    }

    public static Table Measurements(Build build, Figures figures, Terminal terminal)
    {
        Table table = Make(terminal, ["Made", "Label", "Id", "Status"], ["Tip turn", "Guides"], ["Follows worst, " + figures.UnitName, "Largest gap " + figures.UnitName, "Program"]);
        foreach (StoredMeasurement m in build.Measurements)
        {
            table.AddRow(
                Cell($"{m.MadeAt:yyyy-MM-dd HH:mm}"), Cell(m.Label), Cell(ShortId(m.Id)), Cell(m.IsSetAside ? $"set aside{(m.AsideReason is { } why ? $": {why}" : "")}" : m.Status == MeasurementStatus.Ok ? "ok" : "needs review"), Cell($"{m.TipTurnDeg:0.0}°"),
                Cell(m.GuideCount.ToString()), Cell(m.Worst is { } w ? $"{w.Name}, {w.By} {figures.WithUncertainty(w.Mm, w.UncertaintyMm)}" : null), Cell(Figure(figures, m.LargestGapMm, m.LargestGapUncertaintyMm)), Cell(m.ProgramVersion));
        }

        return table;
    }

    public static Table Guides(IReadOnlyList<GuideEntry> guides, Figures figures, Terminal terminal)
    {
        Table table = Make(terminal, ["Guide", "Frame"], ["Ring mm", "From tip " + figures.UnitName, "1/16 in", "From reel " + figures.UnitName, "1/16 in"], []);
        for (int i = 0; i < guides.Count; i++)
        {
            GuideEntry g = guides[i];
            table.AddRow(
                Cell(g.FromTipMm == 0 ? "tip-top" : $"{i + 1}"), Cell(g.Frame), Cell($"{g.RingSizeMm:0.#}"), Cell(figures.Bare(g.FromTipMm)), Cell(Figures.BareSixteenths(g.FromTipMm)),
                Cell(figures.Bare(g.FromReelMm)), Cell(g.FromReelMm is { } reel ? Figures.BareSixteenths(reel) : null));
        }

        return table;
    }

    public static Table Stations(IReadOnlyList<LayoutStation> stations, Figures figures, Terminal terminal)
    {
        Table table = Make(terminal, ["Guide"], ["From tip " + figures.UnitName, "1/16 in", "From reel " + figures.UnitName, "1/16 in", "Ring mm"], []);
        for (int i = 0; i < stations.Count; i++)
        {
            LayoutStation s = stations[i];
            table.AddRow(
                Cell(s.FromTipMm == 0 ? "tip-top" : $"{i + 1}"), Cell(figures.Bare(s.FromTipMm)), Cell(Figures.BareSixteenths(s.FromTipMm)), Cell(figures.Bare(s.FromReelMm)),
                Cell(s.FromReelMm is { } reel ? Figures.BareSixteenths(reel) : null), Cell($"{s.RingSizeMm:0.#}"));
        }

        return table;
    }

    /// <summary>The end of an id: it differs where beginnings, made from the time, may not.</summary>
    public static string ShortId(string id) => id[^8..];

    /// <summary>"5 to 6, bow 6.1".</summary>
    private static string? Worst(Figures figures, WorstPair? w) => w is null ? null : $"{w.Name}, {w.By} {figures.Bare(w.Mm)}";

    private static string? Figure(Figures figures, double? mm, double? uncertaintyMm) =>
        mm is { } value ? figures.WithUncertainty(value, uncertaintyMm ?? 0) : null;

    internal static Text Cell(string? text) => new(string.IsNullOrEmpty(text) ? "–" : SafeText.Of(text));

    internal static Table Make(Terminal terminal, string[] left, string[] right, string[] leftAgain)
    {
        Table table = new() { Border = terminal.OutIsTerminal ? TableBorder.Simple : TableBorder.None };
        foreach (string head in left)
            table.AddColumn(new TableColumn(new Text(head)));
        foreach (string head in right)
            table.AddColumn(new TableColumn(new Text(head)) { NoWrap = true, Alignment = Justify.Right });
        foreach (string head in leftAgain)
            table.AddColumn(new TableColumn(new Text(head)));
        return table;
    }
}
