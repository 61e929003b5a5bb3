using DeflectScan.Records.Model;
using DeflectScan.Records.Schema;

namespace DeflectScan.Records.Storage;

/// <summary>Makes a new archive's database beside its place and puts it there whole.</summary>
internal static class NewDatabase
{
    public static void Make(IDurableFiles files, ArchivePaths paths, TimeProvider clock, IReadOnlyList<Migration> migrations)
    {
        string temporary = Path.Combine(paths.Folder, Path.GetRandomFileName() + DurableWrite.TemporaryEnding);
        try
        {
            using (Database database = Database.ForWriting(temporary, create: true))
            {
                database.Execute($"PRAGMA application_id = {Database.ApplicationId}");
                database.Execute("PRAGMA journal_mode = WAL");
                Migrator.Bring(database, migrations, files);
                database.Begin();
                database.Execute("INSERT INTO archive (key, value) VALUES ('id', $1), ('created_at', $2)", Guid.CreateVersion7(clock.GetUtcNow()).ToString(), RowsOf.Time(clock.GetUtcNow()));
                files.Commit(database.Transaction!);
                database.EndTransaction();
                database.Checkpoint();
            }

            using (FileStream file = new(temporary, FileMode.Open, FileAccess.ReadWrite))
                files.Flush(file);
            files.Rename(temporary, paths.Database);
            files.FlushFolder(paths.Folder);
        }
        finally
        {
            foreach (string leftover in new[] { temporary, temporary + "-wal", temporary + "-shm" })
                File.Delete(leftover);
        }
    }
}
