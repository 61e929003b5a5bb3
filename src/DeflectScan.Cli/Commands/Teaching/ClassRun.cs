using DeflectScan.Cli.Display;
using DeflectScan.Cli.Running;
using DeflectScan.Measuring;
using DeflectScan.Reporting;
using DeflectScan.Reporting.Boards;
using DeflectScan.Reporting.Drawing;
using DeflectScan.Reporting.Sheets;
using DeflectScan.Teaching;
using DeflectScan.Writing;

namespace DeflectScan.Cli.Commands;

/// <summary>Measures what a class handed in and writes what comes of it.</summary>
internal sealed class ClassRun(Engine engine, Terminal terminal, MeasureOptions measuring, ManyOptions many)
{
    /// <summary>Where to.</summary>
    internal sealed record Place(string Folder, OutputFiles Files, SheetPaper Paper);

    public int Run(IReadOnlyList<HandedIn> students, string? reference, ClassOptions options, Place place, CancellationToken cancel)
    {
        Expect(place);
        (string Student, string Path)[] photos = [.. students.SelectMany(s => s.Photos.Select(p => (s.Student, p))), .. reference is { } own ? (IEnumerable<(string, string)>)[("Instructor", own)] : []];
        CountLine progress = new(terminal, photos.Length);
        IReadOnlyList<Taken> all;
        try
        {
            all = ManyPhotos.Run([.. photos.Select(p => p.Path)], many, One, Failed, progress.Done, (_, t) => progress.Add(new MeasuredFile("", t.Photo.Measurement, null)), cancel);
        }
        finally
        {
            progress.Away();
        }

        Taken[] handed = [.. all.Take(photos.Length - (reference is null ? 0 : 1))];
        ClassPhoto[] standing = [.. handed.GroupBy(t => t.Photo.Student, StringComparer.Ordinal).Select(g => ClassFolder.TryThatCounts([.. g.Select(t => t.Photo)]))];
        ClassReport report = ClassRule.Make(standing, options, reference is null ? null : all[^1].Photo);
        Write(report, handed, place, cancel);
        new ClassDisplay(terminal, new Figures(measuring.Units)).Show(report);
        terminal.Say($"Written to {Path.GetFullPath(place.Folder)}: {ClassBook.Html}, {ClassBook.Pdf}, {ClassBook.Png}, {ClassBook.Csv}, {ClassBook.Json} and {Counted.Of(report.Rods.Count, "sheet")} in {ClassBook.Sheets}.");
        return ExitCode.Worst(report.Rods.Select(r => r.Photo.Measurement is { } m ? ExitCode.For(m.Status) : ExitCode.Unexpected));

        Taken One(int i, CancellationToken token)
        {
            using MeasuredPhoto measured = engine.Measure(photos[i].Path, measuring, Quiet.Instance, token);
            token.ThrowIfCancellationRequested();
            (Func<byte[]>? overlay, Func<byte[]>? unrolled) = measured.Bare ?? (measured.OverlayPng, measured.UnrolledPng);
            ReportPicture? Drawn(Func<byte[]>? png) => png is null ? null : ReportPicture.OfPng(png());
            return new Taken(
                new ClassPhoto(photos[i].Student, Path.GetFileName(photos[i].Path), measured.Measurement),
                new RodPictures(Drawn(overlay), Drawn(unrolled)));
        }

        Taken Failed(int i, Exception e) => new(new ClassPhoto(photos[i].Student, Path.GetFileName(photos[i].Path), null, ManyRun.Explain(e)), new RodPictures(null, null));
    }

    /// <summary>What can be known before the work.</summary>
    private static void Expect(Place place)
    {
        foreach ((string name, OutputFormat format) in new[]
        {
            (ClassBook.Html, OutputFormat.Html), (ClassBook.Pdf, OutputFormat.Pdf), (ClassBook.Png, OutputFormat.Png), (ClassBook.Csv, OutputFormat.Csv), (ClassBook.Json, OutputFormat.Json),
        })
            place.Files.Expect(Path.Combine(place.Folder, name), [format]);
        try
        {
            Directory.CreateDirectory(Path.Combine(place.Folder, ClassBook.Sheets));
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or ArgumentException)
        {
            throw new OutputRefusedException("The output folder cannot be made or written to: give another one with --out.");
        }
    }

    private void Write(ClassReport report, IReadOnlyList<Taken> handed, Place place, CancellationToken cancel)
    {
        ProgressLine line = new(terminal);
        try
        {
            foreach ((string path, Func<byte[]> bytes) in ClassBook.Files(report, rod => handed.First(t => t.IsOf(rod.Photo)).Pictures, place.Paper, measuring.Units))
            {
                cancel.ThrowIfCancellationRequested();
                if (terminal.ErrorIsTerminal)
                    line.Report($"Drawing {path}");
                place.Files.Write(Path.Combine(place.Folder, path), bytes());
            }
        }
        finally
        {
            line.Done();
        }
    }

    /// <summary>A photo with its pictures.</summary>
    private sealed record Taken(ClassPhoto Photo, RodPictures Pictures)
    {
        public bool IsOf(ClassPhoto photo) => ReferenceEquals(photo.Measurement, Photo.Measurement) && photo.Student == Photo.Student && photo.File == Photo.File;
    }
}
