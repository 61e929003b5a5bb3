using DeflectScan.Records.Storage;

namespace DeflectScan.Records.Checking;

/// <summary>Makes again what follows from whole rows: pairs that follow worst, summaries, words and the seal. Never touches a row of facts or a photo.</summary>
internal static class Repairs
{
    public const string Done = "Repaired: what follows from the rows was made again. Run verify once more to see that all is well.";

    /// <summary>Repairs if nothing but what can be made again is damaged.</summary>
    public static bool Try(IDurableFiles files, ArchivePaths paths, CheckReport report)
    {
        string[] derived = ["records.seal", "records.db, summary", "records.db, pair that follows worst", "records.db, words", "records.db, search"];
        if (!report.Damages.All(d => derived.Any(w => d.Where.StartsWith(w, StringComparison.Ordinal))))
            return false;
        using (Database database = Database.ForWriting(paths.Database))
        {
            PageSeal.Break(files, paths);
            database.Begin();
            MadeAgain.Make(database);
            files.Commit(database.Transaction!);
            database.EndTransaction();
            database.Checkpoint();
        }

        PageSeal.Write(files, paths);
        return true;
    }
}
