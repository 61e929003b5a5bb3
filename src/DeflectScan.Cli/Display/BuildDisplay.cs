using DeflectScan.Cli.Running;
using DeflectScan.Geometry;
using DeflectScan.Proving;
using DeflectScan.Records.Model;
using DeflectScan.Tracing;
using Spectre.Console;

namespace DeflectScan.Cli.Display;

/// <summary>A build as a person reads it.</summary>
internal sealed class BuildDisplay(Terminal terminal, Figures figures)
{
    private readonly IAnsiConsole _console = terminal.Tables();

    public void Show(Build b)
    {
        BuildFacts f = b.Facts;
        Strong(f.Name.ReplaceLineEndings(" "));
        Line($"Id {b.Id}, since {b.CreatedAt:yyyy-MM-dd}, described {Counted.Of(b.History.Count, "time")}");
        foreach ((string name, string? text) in Facts(f, figures.Unit))
        {
            if (!string.IsNullOrWhiteSpace(text))
                Line($"{name}: {text}");
        }

        Section("Guides as built, from the reel", f.Guides.Count, () => BuildTables.Guides(f.Guides, figures, terminal));
        Section("Measurements", b.Measurements.Count, () => BuildTables.Measurements(b, figures, terminal));
        foreach (ConsideredLayout layout in b.Layouts)
        {
            string chosen = layout.Id == b.ChosenLayoutId ? ", chosen" : "";
            Section($"Layout \"{layout.Name}\"{chosen}: {layout.Basis}", layout.Stations.Count, () => BuildTables.Stations(layout.Stations, figures, terminal));
        }

        if (b.Proofs.Count > 0)
            Strong("\nProofs by hand");
        foreach (StoredProof proof in b.Proofs)
            Line($"{proof.At:yyyy-MM-dd HH:mm} {Counted.Of(proof.Readings.Count, "reading")}: {Word(proof.Verdict)}; chi-square {proof.ChiSquare:0.0}, largest E_n {proof.LargestEn:0.0}");
        if (b.Notes.Count > 0)
            Strong("\nNotes");
        foreach (BuildNote note in b.Notes)
            Line($"{note.At:yyyy-MM-dd HH:mm} {Word(note.Kind)}: {note.Text}");
    }

    public static IEnumerable<(string Name, string? Text)> Facts(BuildFacts f, LengthUnit unit = LengthUnit.Millimetres) =>
    [
        ("Owner", f.Owner),
        ("Blank", f.Blank),
        ("Length", f.BlankLengthMm is { } length ? UnitsText.Both(length, unit) : null),
        ("Pieces", f.Pieces?.ToString()),
        ("Spine", f.SpineMark),
        ("Handle", f.Handle),
        ("Reel class", f.ReelClass?.ToString()),
        ("Line", f.Line),
        ("Guides", f.Side switch { BendSide.Inside => "on the inside of the bend (spinning)", BendSide.Outside => "on the outside of the bend (casting)", _ => null }),
        ("Use", f.Use),
        ("Remarks", f.Remarks),
    ];

    private static string Word(ProofVerdict verdict) => verdict switch
    {
        ProofVerdict.Agree => "photo and hand agree",
        ProofVerdict.Disagree => "photo and hand contradict each other",
        _ => "too rough to prove anything",
    };

    private static string Word(NoteKind kind) => kind switch { NoteKind.TestCast => "test cast", NoteKind.Remark => "remark", _ => "note" };

    private void Section(string title, int count, Func<Table> table)
    {
        if (count == 0)
            return;
        Strong("\n" + title);
        _console.Write(table());
    }

    private void Line(string text) => _console.Write(new Text(Lines(text, "\n    ") + "\n"));

    private void Strong(string text) => _console.Write(new Text(Lines(text, "\n") + "\n", new Style(decoration: Decoration.Bold)));

    /// <summary>A text's own line ends stay; nothing else in it can steer the terminal.</summary>
    private static string Lines(string text, string between) => string.Join(between, text.ReplaceLineEndings("\n").Split('\n').Select(SafeText.Of));
}
