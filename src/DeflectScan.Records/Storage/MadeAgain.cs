namespace DeflectScan.Records.Storage;

/// <summary>Makes all again that follows from the facts: the pairs that follow worst, summaries and words.</summary>
internal static class MadeAgain
{
    private const string Mark = "made_again";

    /// <summary>In the caller's transaction.</summary>
    public static void Make(Database database)
    {
        WorstPairs.MakeAgain(database);
        database.Execute("DELETE FROM search");
        database.Execute("DELETE FROM summaries");
        foreach (string id in database.List("SELECT id FROM builds ORDER BY id", r => r.GetString(0)))
            Summaries.Refresh(database, id);
    }

    /// <summary>The same where a migration has said that it is due, in the transaction that brings the last schema: earlier ones lack what is made now.</summary>
    public static void MakeIfDue(Database database)
    {
        if (database.Scalar("SELECT value FROM archive WHERE key = $1", Mark) is null)
            return;
        Make(database);
        database.Execute("DELETE FROM archive WHERE key = $1", Mark);
    }
}
