using DeflectScan.Records.Model;
using DeflectScan.Records.Schema;
using DeflectScan.Records.Storage;

namespace DeflectScan.Records;

/// <summary>
/// Making and opening archives: a folder with a database and the photos as they came. One writes at a time, any number read.
/// All that fails is an <see cref="ArchiveException"/> with one sentence for the user.
/// </summary>
public static class Archive
{
    /// <summary>Makes a new archive in a folder that is empty or not there yet.</summary>
    public static void Create(string folder) => Create(folder, DiskFiles.Instance, TimeProvider.System, Migration.Released);

    /// <summary>Whether an archive lies in a folder.</summary>
    public static bool IsThere(string folder) => File.Exists(new ArchivePaths(Path.GetFullPath(folder)).Database);

    /// <summary>Opens an archive to read; an older one is brought to the present schema first, with a backup beside it.</summary>
    public static ArchiveReader OpenForReading(string folder) => OpenForReading(folder, DiskFiles.Instance, Migration.Released);

    /// <summary>Opens an archive to write. Dispose it: that closes the archive for good.</summary>
    public static ArchiveWriter OpenForWriting(string folder) => OpenForWriting(folder, DiskFiles.Instance, TimeProvider.System, Migration.Released);

    internal static void Create(string folder, IDurableFiles files, TimeProvider clock, IReadOnlyList<Migration> migrations) => Faults.Guarded(() =>
    {
        ArchivePaths paths = new(Path.GetFullPath(folder));
        if (File.Exists(paths.Database))
            throw new ArchiveException(ArchiveProblem.Refused, "There is an archive in that folder already: nothing was changed.");
        if (File.Exists(paths.Folder) || (Directory.Exists(paths.Folder) && Directory.EnumerateFileSystemEntries(paths.Folder).Any(e => !IsLeftover(paths, e))))
            throw new ArchiveException(ArchiveProblem.Refused, "The new archive's folder holds other things: give an empty folder or a new name.");
        files.MakeFolder(paths.Folder);
        using WriteLock held = WriteLock.Take(paths);
        Leftovers.Remove(paths);
        files.MakeFolder(paths.Photos);
        NewDatabase.Make(files, paths, clock, migrations);
        PageSeal.Write(files, paths);
        return true;
    });

    internal static ArchiveReader OpenForReading(string folder, IDurableFiles files, IReadOnlyList<Migration> migrations) => Faults.Guarded(() =>
    {
        ArchivePaths paths = ArchivePaths.Existing(folder);
        Database database = Database.ForReading(paths.Database);
        try
        {
            int version = Migrator.VersionOf(database, migrations);
            if (version < migrations[^1].To)
            {
                database.Dispose();
                OpenForWriting(folder, files, TimeProvider.System, migrations).Dispose();
                database = Database.ForReading(paths.Database);
            }

            return new ArchiveReader(paths, database);
        }
        catch
        {
            database.Dispose();
            throw;
        }
    });

    internal static ArchiveWriter OpenForWriting(string folder, IDurableFiles files, TimeProvider clock, IReadOnlyList<Migration> migrations) => Faults.Guarded(() =>
    {
        ArchivePaths paths = ArchivePaths.Existing(folder);
        WriteLock held = WriteLock.Take(paths);
        try
        {
            return WriterOpening.Open(paths, held, files, clock, migrations);
        }
        catch
        {
            held.Dispose();
            throw;
        }
    });

    /// <summary>What an earlier attempt at making the archive may have left.</summary>
    private static bool IsLeftover(ArchivePaths paths, string entry) =>
        entry == paths.Lock || entry == paths.Photos || Path.GetFileName(entry).Contains(DurableWrite.TemporaryEnding, StringComparison.Ordinal);
}
