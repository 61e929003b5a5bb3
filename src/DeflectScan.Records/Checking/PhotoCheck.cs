using DeflectScan.Records.Schema;
using DeflectScan.Records.Storage;

namespace DeflectScan.Records.Checking;

/// <summary>Reads every photo and holds it against its hash; names files that no row speaks of.</summary>
internal sealed class PhotoCheck(ArchivePaths paths)
{
    private readonly HashSet<string> _known = [];

    public int Count { get; private set; }

    public long Bytes { get; private set; }

    public IEnumerable<Damage> Listed(Database database)
    {
        foreach (Row photo in database.List($"SELECT {Tables.Photos.ColumnList}, {TableSpec.SumColumn} FROM photos", r => FactTables.Examine(Tables.Photos, r)).Where(r => r.IsWhole).Select(r => r.Row!))
        {
            string sha256 = photo.Text("sha256");
            string path = paths.Photo(sha256, photo.Text("extension"));
            _known.Add(path);
            Count++;
            Bytes += photo.Whole("bytes");
            string? hash = PhotoStore.HashOf(path);
            if (hash == sha256)
                continue;
            long measurements = (long)database.Scalar("SELECT count(*) FROM measurements WHERE photo_sha256 = $1", sha256)!;
            yield return new Damage(
                Path.GetRelativePath(paths.Folder, path),
                hash is null ? "the photo is missing" : "the photo is not what was stored",
                $"The figures of its {measurements} measurement(s) are whole; add the original photo again, or import an export that holds it, to put it right.");
        }
    }

    /// <summary>Files that no row speaks of: left by an add that did not come to its end, or damaged.</summary>
    public IEnumerable<(string Path, bool IsWhole)> Unlisted()
    {
        if (!Directory.Exists(paths.Photos))
            yield break;
        foreach (string path in Directory.EnumerateFiles(paths.Photos, "*", SearchOption.AllDirectories).Where(p => !_known.Contains(p)).Order(StringComparer.Ordinal))
        {
            if (!path.Contains(DurableWrite.TemporaryEnding, StringComparison.Ordinal))
                yield return (Path.GetRelativePath(paths.Folder, path), PhotoStore.HashOf(path) == Path.GetFileNameWithoutExtension(path));
        }
    }
}
