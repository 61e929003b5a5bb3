using DeflectScan.Records.Model;

namespace DeflectScan.Records.Storage;

/// <summary>Where things lie in an archive's folder.</summary>
internal sealed record ArchivePaths(string Folder)
{
    /// <summary>Those of an archive that is there.</summary>
    /// <exception cref="ArchiveException">There is none in that folder.</exception>
    public static ArchivePaths Existing(string folder)
    {
        ArchivePaths paths = new(Path.GetFullPath(folder));
        return File.Exists(paths.Database)
            ? paths
            : throw new ArchiveException(
                ArchiveProblem.NotThere, "There is no archive in that folder: name the archive's folder, or make a new archive.");
    }

    public string Database => Path.Combine(Folder, "records.db");

    public string WriteAheadLog => Database + "-wal";

    /// <summary>Whether changes wait beside the database that it does not hold yet.</summary>
    public bool HasLog => new FileInfo(WriteAheadLog) is { Exists: true, Length: > 0 };

    /// <summary>Hashes of the database's pages; there exactly while nobody writes and the last one that wrote had closed the archive.</summary>
    public string Seal => Path.Combine(Folder, "records.seal");

    public string Lock => Path.Combine(Folder, "records.lock");

    public string Photos => Path.Combine(Folder, "photos");

    public string Backup(int version) => Path.Combine(Folder, $"records.schema-{version}.backup.db");

    /// <summary>A photo's folder: the first two digits of its hash.</summary>
    public string PhotoFolder(string sha256) => Path.Combine(Photos, sha256[..2]);

    public string Photo(string sha256, string extension) => Path.Combine(PhotoFolder(sha256), sha256 + extension);
}
