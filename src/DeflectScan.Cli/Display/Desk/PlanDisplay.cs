using System.Globalization;
using DeflectScan.Cli.Running;
using DeflectScan.Layout.Start;
using Spectre.Console;

namespace DeflectScan.Cli.Display.Desk;

/// <summary>A start layout at the bench: the table, and under it what each value rests on.</summary>
internal sealed class PlanDisplay(Terminal terminal, Figures figures)
{
    public void Show(StartLayout layout, string title)
    {
        DeskPage page = new(terminal, figures.Unit);
        page.Title($"{title}: a layout to tape on before the first test");
        string other = figures.InchesFirst ? "mm" : "in";
        Table table = DeskTables.Make(
            page.Border,
            [
                ("Guide", false), ("Kind", false), ("Ring", true), ($"From reel {figures.UnitName}", true), (other, true), ("1/16 in", true), ($"From tip {figures.UnitName}", true),
                ($"Cone {figures.UnitName}", true), ("Place rests on", false), ("Ring rests on", false),
            ]);
        for (int i = 0; i < layout.Guides.Count; i++)
        {
            StartGuide g = layout.Guides[i];
            DeskTables.Row(
                table,
                [
                    g.Role == GuideRole.TipTop ? "tip-top" : $"{i + 1}", Word(g.Role), g.RingSize.ToString("0.#", CultureInfo.InvariantCulture),
                    Whole(g.FromReelMm), figures.InchesFirst ? WholeMm(g.FromReelMm) : Figures.BareInches(g.FromReelMm),
                    Figures.BareSixteenths(g.FromReelMm), Whole(g.FromTipMm),
                    g.ConeMm is { } cone && g.ConeHeightMm is { } height ? $"{Whole(cone)} at {Whole(height)}" : "", Word(g.StationBasis.Basis), Word(g.RingBasis.Basis),
                ]);
        }

        page.Write(table);
        page.Line("Cone: its diameter there, and the height of its axis over the blank's, where the ring's centre should stand.");
        page.Heading("What it rests on", "common practice: no source");
        foreach (Reasoned reason in layout.Spool)
            page.Line($"  Spool, {Whole(reason.Value)} {figures.UnitName}: {figures.InUnit(reason.Why)} ({Word(reason.Basis)})");
        page.Line($"  Every ring's hole at least {figures.Bare(layout.LeastBore.Value)} {figures.UnitName}: {figures.InUnit(layout.LeastBore.Why)} ({Word(layout.LeastBore.Basis)})");
        page.Line($"  {layout.Count.Value:0} guides and the tip-top: {layout.Count.Why} ({Word(layout.Count.Basis)})");
        foreach ((string why, int[] guides) in layout.Guides.SelectMany((g, i) => new[] { (g.StationBasis.Why, i), (g.RingBasis.Why, i) })
            .GroupBy(p => p.Item1, StringComparer.Ordinal).Select(g => (g.Key, g.Select(p => p.i + 1).ToArray())))
        {
            page.Line($"  {Guides(guides, layout.Guides.Count)}: {figures.InUnit(why)}");
        }
    }

    // Nobody places a guide to tenths of a millimetre.
    private string Whole(double mm) => figures.InchesFirst ? figures.Bare(mm) : WholeMm(mm);

    private static string WholeMm(double mm) => mm.ToString("0", CultureInfo.InvariantCulture);

    private static string Guides(int[] guides, int tip) => string.Join(", ", guides.Select(g => g == tip ? "tip-top" : g.ToString(CultureInfo.InvariantCulture)));

    private static string Word(GuideRole role) => role switch { GuideRole.Reduction => "reduction", GuideRole.Running => "running", _ => "tip-top" };

    private static string Word(Grounds basis) => basis switch
    {
        Grounds.Given => "given",
        Grounds.Geometry => "geometry",
        Grounds.CommonPractice => "common practice",
        _ => "judgement",
    };
}
