using DeflectScan.Records.Model;
using DeflectScan.Records.Schema;
using DeflectScan.Records.Storage;

namespace DeflectScan.Records.Storage;

/// <summary>Brings a database to the present schema, one released schema after the other, each in a transaction of its own.</summary>
internal static class Migrator
{
    /// <summary>The schema of an archive's database.</summary>
    /// <exception cref="ArchiveException">It is none of ours, or of a newer program.</exception>
    public static int VersionOf(Database database, IReadOnlyList<Migration> migrations)
    {
        int version = database.SchemaVersion;
        if ((long)database.Scalar("PRAGMA application_id")! != Database.ApplicationId || version < 1)
            throw Faults.Damaged("its database is not one of an archive");
        return version <= migrations[^1].To
            ? version
            : throw new ArchiveException(
                ArchiveProblem.Refused, $"The archive was made by a newer program (schema {version}): bring this program up to date; nothing was changed.");
    }

    /// <summary>Applies what is missing. A new database has schema 0.</summary>
    public static void Bring(Database database, IReadOnlyList<Migration> migrations, IDurableFiles files)
    {
        foreach (Migration step in migrations.Where(m => m.To > database.SchemaVersion))
        {
            try
            {
                database.Begin();
                database.Execute(step.Sql);
                if (step.To == migrations[^1].To)
                    MadeAgain.MakeIfDue(database);
                database.Execute($"PRAGMA user_version = {step.To}");
                files.Commit(database.Transaction!);
            }
            finally
            {
                database.EndTransaction();
            }
        }
    }

    /// <summary>A whole copy of the database beside it, before it is migrated.</summary>
    public static void BackUp(Database database, ArchivePaths paths, IDurableFiles files)
    {
        string place = paths.Backup(database.SchemaVersion);
        string temporary = Path.Combine(paths.Folder, Path.GetRandomFileName() + DurableWrite.TemporaryEnding);
        try
        {
            database.Execute("VACUUM INTO $1", temporary);
            using (FileStream file = new(temporary, FileMode.Open, FileAccess.ReadWrite))
                files.Flush(file);
            files.Rename(temporary, place);
            files.FlushFolder(paths.Folder);
        }
        finally
        {
            File.Delete(temporary);
        }
    }
}
