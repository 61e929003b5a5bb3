using DeflectScan.Cli.Running;
using DeflectScan.Proving;
using Spectre.Console;

namespace DeflectScan.Cli.Display.Desk;

/// <summary>Readings by hand beside the photo's figures.</summary>
internal sealed class ProofDisplay(Terminal terminal, Figures figures)
{
    public void Show(ProofReport proof, string name)
    {
        DeskPage page = new(terminal, figures.Unit);
        page.Title($"{name}: proof");
        page.Heading("Readings", $"in {figures.UnitWord}; E_n: difference over both uncertainties, above 1 in 1 of 20 by chance");
        Table table = DeskTables.Make(page.Border, [("Reading", false), ("By hand", true), ("Photo", true), ("Difference", true), ("E_n", true), ("", false)]);
        foreach (ComparedReading r in proof.Readings)
        {
            string mark = r.En > 1 ? "apart" : r.IsRough ? "rough" : "";
            DeskTables.Row(
                table,
                [
                    r.Reading.Name, figures.WithUncertainty(r.Reading.Mm, r.Reading.UncertaintyMm), figures.WithUncertainty(r.PhotoMm, r.PhotoUncertaintyMm),
                    DeskTables.Signed(figures, r.DifferenceMm), $"{r.En:0.0}", mark,
                ],
                strong: r.En > 1);
        }

        page.Write(table);
        page.Strong(figures.InUnit(proof.Says[0]));
        foreach (string sentence in proof.Says.Skip(1))
            page.Sentence(sentence);
        if (proof.Causes.Count == 0)
            return;
        page.Heading(proof.IsSure ? "What would explain it" : "What might explain it", $"one of these; chi-square explained, of {proof.ChiSquare:0.0}");
        foreach (NamedCause cause in proof.Causes)
        {
            page.Sentence($"  {Share(cause.Share)}, {cause.ChiSquareExplained:0.0}: {cause.Says}");
            page.Sentence($"    {cause.Do}");
        }
    }

    private static string Share(double share) => share > 0.99 ? "over 99 %" : $"{100 * share:0} %";
}
