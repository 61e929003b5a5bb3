using DeflectScan.Records;
using DeflectScan.Records.Model;
using DeflectScan.Records.Transfer;

namespace DeflectScan.Nightly.Archives;

/// <summary>The process that is killed: adds and imports without end, and says on standard output what was acknowledged.</summary>
internal static class Worker
{
    public static int Run(string folder, string photos, int seed)
    {
        Random random = new(seed);
        Console.WriteLine("ready");
        for (int n = 0; n < 100_000; n++)
        {
            using ArchiveWriter writer = Archive.OpenForWriting(folder);
            switch (random.Next(4))
            {
                case 0 when File.Exists(ExportPath(photos, random.Next(3))):
                    int which = random.Next(3);
                    ImportFile.Read(writer, ExportPath(photos, which));
                    Console.WriteLine($"import {which}");
                    break;
                case 1 when writer.Reader.BuildCount > 0:
                    string known = writer.Reader.List(1, 1)[0].Id;
                    Console.WriteLine($"note {known} {writer.AddNote(known, NoteKind.Note, $"note {seed} {n}")}");
                    break;
                default:
                    Console.WriteLine($"build {MadeUp.AddOne(writer, photos, random.Next(1_000_000))}");
                    break;
            }
        }

        return 0;
    }

    public static string ExportPath(string photos, int number) => Path.Combine(photos, $"export {number}.zip");
}
