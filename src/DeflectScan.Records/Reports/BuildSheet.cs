using DeflectScan.Findings;
using DeflectScan.Geometry;
using DeflectScan.Records.Model;
using DeflectScan.Reporting.Cards;
using DeflectScan.Reporting.Sheets;
using DeflectScan.Tracing;

namespace DeflectScan.Records.Reports;

/// <summary>What stands on a build sheet, whatever it is printed as. All texts are safe to print: <see cref="SheetText"/>.</summary>
/// <param name="Build">The build.</param>
/// <param name="Test">The measurement that is printed, usually the latest that shows guides; null where there is none.</param>
/// <param name="Measurement">That measurement's figures.</param>
/// <param name="Pictures">Drawn from its photo.</param>
public sealed record BuildSheet(Build Build, StoredMeasurement? Test, Measurement? Measurement, SheetPictures? Pictures)
{
    /// <param name="reader">The archive.</param>
    /// <param name="build">The build.</param>
    /// <param name="test">Its measurement that is to be printed; null for the latest.</param>
    public static BuildSheet Of(ArchiveReader reader, Build build, StoredMeasurement? test = null) => (test ?? build.LatestTest) is { } printed
        ? new BuildSheet(build, printed, reader.Measurement(printed), SheetPictures.Draw(reader, printed))
        : new BuildSheet(build, null, null, null);

    public static IReadOnlyList<string> Cautions { get; } = LayoutSheet.Cautions;

    public string Title => SheetText.Of(Build.Facts.Name);

    /// <summary>What is known of the build, name and text.</summary>
    public IEnumerable<(string Name, string Text)> Facts()
    {
        BuildFacts f = Build.Facts;
        (string, string?)[] all =
        [
            ("Owner", f.Owner), ("Blank", f.Blank), ("Length", f.BlankLengthMm is { } length ? UnitsText.Both(length, LengthUnit.Millimetres) : null),
            ("Pieces", f.Pieces?.ToString()), ("Spine", f.SpineMark), ("Handle", f.Handle), ("Reel class", f.ReelClass?.ToString()), ("Line", f.Line),
            ("Guides", f.Side switch { BendSide.Inside => "inside of the bend (spinning)", BendSide.Outside => "outside of the bend (casting)", _ => null }),
            ("Use", f.Use), ("Remarks", f.Remarks), ("Id", Build.Id),
        ];
        return all.Where(p => !string.IsNullOrWhiteSpace(p.Item2)).Select(p => (p.Item1, SheetText.Of(p.Item2!)));
    }

    /// <summary>The measurement in a line.</summary>
    public string? Headline => Test is { } m
        ? SheetText.Of($"{m.Label ?? "Test"}, {m.MadeAt:yyyy-MM-dd}: ") + (m.Status == MeasurementStatus.Ok ? "ok" : "needs review, look at the warnings before trusting a figure")
            + $"; the tip turned through {m.TipTurnDeg:0.0}°; program {m.ProgramVersion}"
        : null;

    /// <summary>Warnings of the measurement and why a picture is missing, a sentence each.</summary>
    public IEnumerable<string> Warnings() =>
        [.. (Measurement is null ? [] : NumberedFindings.Of(Measurement.Findings)).Select(f => SheetText.Of(f.Mark is { } mark ? $"{mark} {f.Finding.Message}" : f.Finding.Message)), .. Pictures?.Remark is { } remark ? [remark] : Array.Empty<string>()];

    public IEnumerable<string> Notes() => Build.Notes.Select(n => SheetText.Of(
        $"{n.At:yyyy-MM-dd}{n.Kind switch { NoteKind.TestCast => ", test cast", NoteKind.Remark => ", remark", _ => "" }}: {n.Text}"));

    /// <summary>The tables: title, heads, rows.</summary>
    public IEnumerable<SheetTable> Tables() => SheetTables.Of(this);

    /// <summary>The drawing to scale: the layout that was chosen, else the guides as built, as measured, or the layout considered last; null where there is none.</summary>
    public (string Title, SheetLayout Layout)? Drawing() => SheetDrawing.Of(Build, Measurement);
}

/// <summary>A table of a sheet.</summary>
/// <param name="Title">What stands over it.</param>
/// <param name="Note">More about it in a sentence or two; null where there is none.</param>
/// <param name="Heads">One for each column.</param>
/// <param name="Rows">A text for each column.</param>
public sealed record SheetTable(string Title, string? Note, IReadOnlyList<string> Heads, IReadOnlyList<IReadOnlyList<string>> Rows);
