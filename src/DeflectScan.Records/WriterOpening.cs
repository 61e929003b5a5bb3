using DeflectScan.Records.Checking;
using DeflectScan.Records.Schema;
using DeflectScan.Records.Storage;

namespace DeflectScan.Records;

/// <summary>
/// What must hold before anything is written: the database is the one that was closed last, or, after a crash, whole in itself.
/// Damage is never written over.
/// </summary>
internal static class WriterOpening
{
    public static ArchiveWriter Open(ArchivePaths paths, WriteLock held, IDurableFiles files, TimeProvider clock, IReadOnlyList<Migration> migrations)
    {
        PageSeal.Verdict seal = PageSeal.Check(paths);
        if (seal.IsThere && paths.HasLog)
            throw Faults.Damaged("a write-ahead log lies beside its closed database that does not belong there");
        if (seal.IsThere && !seal.IsWhole)
        {
            throw Faults.Damaged(seal.SealIsWhole
                ? $"page {seal.ChangedPages[0]} of its database is not what was written"
                : "the seal of its database is not what was written");
        }

        if (!seal.IsThere)
            Leftovers.Remove(paths);
        Database database = Database.ForWriting(paths.Database);
        try
        {
            int version = Migrator.VersionOf(database, migrations);
            bool isOld = version < migrations[^1].To;
            if (!seal.IsThere && DatabaseCheck.FirstDamage(database, withRows: !isOld) is { } damage)
                throw Faults.Damaged(damage);
            ArchiveWriter writer = new(paths, held, database, files, clock, isSealed: seal.IsThere);
            if (isOld)
            {
                Migrator.BackUp(database, paths, files);
                writer.BreakSeal();
                Migrator.Bring(database, migrations, files);
            }

            return writer;
        }
        catch
        {
            database.Dispose();
            throw;
        }
    }
}
