using DeflectScan.Records.Schema;
using DeflectScan.Records.Storage;

namespace DeflectScan.Records.Tests;

/// <summary>All facts of an archive as text, to compare two states field for field; photos by the hash of their bytes on the disk.</summary>
internal static class State
{
    public static string[] Of(string folder)
    {
        using ArchiveReader reader = Archive.OpenForReading(folder);
        return
        [
            .. Tables.All.SelectMany(t => FactTables.Stream(reader.Database, t).Select(r => $"{t.Name}: {string.Join(" | ", r.Values.Select(v => v ?? "-"))}")),
            .. FactTables.Stream(reader.Database, Tables.Measurements).Select(m => Documents.Read(reader.Database, m.Text("document_sha256"))),
            .. FactTables.Stream(reader.Database, Tables.Photos).Select(p => PhotoStore.HashOf(new ArchivePaths(folder).Photo(p.Text("sha256"), p.Text("extension"))) ?? "missing"),
        ];
    }
}
