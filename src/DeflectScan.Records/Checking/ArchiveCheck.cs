using DeflectScan.Records.Model;
using DeflectScan.Records.Schema;
using DeflectScan.Records.Storage;
using Microsoft.Data.Sqlite;

namespace DeflectScan.Records.Checking;

/// <summary>Reads every file and row of an archive and names all that is not what was written.</summary>
public static class ArchiveCheck
{
    private const string Whole = "import your latest export into a new archive, or export what can be read.";

    /// <summary>Checks an archive; one that was not closed is closed on the way, if it is whole and may be written to.</summary>
    /// <param name="folder">The archive's folder.</param>
    /// <param name="repair">Make again what follows from the rest: the seal, summaries and words.</param>
    /// <exception cref="ArchiveException">No archive there, in use, or of a newer program.</exception>
    public static CheckReport Run(string folder, bool repair = false) => Run(folder, repair, DiskFiles.Instance);

    internal static CheckReport Run(string folder, bool repair, IDurableFiles files) => Faults.Guarded(() =>
    {
        ArchivePaths paths = ArchivePaths.Existing(folder);
        using WriteLock? held = LockIfWritable(paths);
        List<Damage> damages = [];
        List<string> notes = [];
        bool open = OfSeal(paths, damages);
        PhotoCheck photos = new(paths);
        (int builds, int measurements) = OfDatabase(paths, open && held is not null, photos, damages, notes);
        foreach ((string path, bool whole) in photos.Unlisted())
        {
            if (whole)
                notes.Add($"{path} belongs to no measurement: it was left by an add that did not come to its end, and is kept.");
            else
                damages.Add(new Damage(path, "the file is not what its name says and belongs to no measurement", "Nothing refers to it: look at it and take it away."));
        }

        if (held is null && paths.HasLog)
            damages.Add(new Damage("records.db-wal", "the archive was not closed, and what its log holds cannot be read where nothing can be written", "Give the folder back its rights, or copy it to another place, and verify it there."));
        if (open && held is not null && damages.Count == 0)
            Close(files, paths, notes);
        CheckReport report = new(damages, notes, builds, measurements, photos.Count, photos.Bytes + new FileInfo(paths.Database).Length);
        return repair && damages.Count > 0 && held is not null && Repairs.Try(files, paths, report) ? report with { Notes = [.. notes, Repairs.Done] } : report;
    });

    private static WriteLock? LockIfWritable(ArchivePaths paths)
    {
        try
        {
            return WriteLock.Take(paths);
        }
        catch (ArchiveException e) when (e.Problem == ArchiveProblem.ReadOnly)
        {
            return null;
        }
    }

    /// <summary>Whether the archive was left open.</summary>
    private static bool OfSeal(ArchivePaths paths, List<Damage> damages)
    {
        PageSeal.Verdict seal = PageSeal.Check(paths);
        if (seal.IsThere && paths.HasLog)
            damages.Add(new Damage("records.db-wal", "a log lies beside a database that was closed", "Take it away: all that was acknowledged is in the database."));
        if (seal is { IsThere: true, SealIsWhole: false })
            damages.Add(new Damage("records.seal", "the seal is not what was written", "The rows are checked one by one: if no more is named, a repair seals the archive again."));
        foreach (long page in seal.ChangedPages.Take(50))
            damages.Add(new Damage($"records.db, page {page}", "the page is not what was written", "Rows that are not named below are whole: " + Whole));
        if (seal.ChangedPages.Count > 50)
            damages.Add(new Damage("records.db", $"{seal.ChangedPages.Count} pages in all are not what was written", "Bytes are missing or many are changed: " + Whole));
        return !seal.IsThere;
    }

    private static (int Builds, int Measurements) OfDatabase(ArchivePaths paths, bool recover, PhotoCheck photos, List<Damage> damages, List<string> notes)
    {
        try
        {
            using Database database = recover ? Database.ForWriting(paths.Database) : Database.AsItLies(paths.Database);
            int version = Migrator.VersionOf(database, Migration.Released);
            if (version < Migration.Released[^1].To)
                notes.Add($"The archive has schema {version}: it is brought to the present one, with a backup, when it is next opened.");
            damages.AddRange(DatabaseCheck.All(database, withRows: version == Migration.Released[^1].To));
            damages.AddRange(photos.Listed(database));
            return ((int)(long)database.Scalar("SELECT count(*) FROM builds")!, (int)(long)database.Scalar("SELECT count(*) FROM measurements")!);
        }
        catch (Exception e) when (e is SqliteException or ArchiveException { Problem: ArchiveProblem.Damaged } or InvalidCastException)
        {
            damages.Add(new Damage("records.db", "the database cannot be read", "The photos below photos/ are the originals; " + Whole));
            return (0, 0);
        }
    }

    private static void Close(IDurableFiles files, ArchivePaths paths, List<string> notes)
    {
        using (Database database = Database.ForWriting(paths.Database))
        {
            if (!database.Checkpoint())
                return;
        }

        if (paths.HasLog)
            return;
        PageSeal.Write(files, paths);
        notes.Add("The archive had not been closed: all its rows are whole, and it is closed now.");
    }
}
