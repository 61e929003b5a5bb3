using DeflectScan.Records;
using DeflectScan.Records.Model;
using DeflectScan.Records.Transfer;

namespace DeflectScan.Nightly.Archives;

/// <summary>The process that is killed: adds and imports without end, and says on standard output what it begins and what was acknowledged.</summary>
internal static class Worker
{
    public const string Ready = "ready";

    /// <summary>How many exports there are to import; number n holds 2^n builds, so that many a kill falls into a long import.</summary>
    public const int Exports = 5;

    /// <summary>Waits for the archive's folder on standard input, when all has been done once and is compiled: then its time goes into writing.</summary>
    public static int Run(string photos, int seed)
    {
        using (Scratch scratch = new())
        {
            Archive.Create(scratch["a"]);
            foreach (int kind in new[] { 0, 1, 3 })
                One(scratch["a"], kind == 3 ? photos : scratch.Path, kind, 0, seed, _ => { });
        }

        Console.WriteLine(Ready);
        if (Console.ReadLine() is not { } folder)
            return 0;
        Random random = new(seed);
        for (int n = 0; n < 100_000; n++)
        {
            (int kind, int export) = (random.Next(5), random.Next(Exports));
            Console.WriteLine("begin " + (kind >= 3 ? $"import {export}" : kind == 1 ? "note" : "build"));
            One(folder, photos, kind, export, random.Next(1_000_000), Console.WriteLine);
        }

        return 0;
    }

    public static string ExportPath(string photos, int number) => Path.Combine(photos, $"export {number}.zip");

    /// <summary>Opens the archive, does one thing, says what was acknowledged, and closes the archive.</summary>
    private static void One(string folder, string photos, int kind, int export, int number, Action<string> say)
    {
        using ArchiveWriter writer = Archive.OpenForWriting(folder);
        if (kind >= 3)
        {
            ImportFile.Read(writer, ExportPath(photos, export));
            say($"import {export}");
        }
        else if (kind == 1 && writer.Reader.BuildCount > 0)
        {
            string known = writer.Reader.List(1, 1)[0].Id;
            say($"note {known} {writer.AddNote(known, NoteKind.Note, $"note {number}")}");
        }
        else
        {
            say($"build {MadeUp.AddOne(writer, photos, number)}");
        }
    }
}
