using DeflectScan.Findings;
using DeflectScan.Records.Model;
using DeflectScan.Records.Schema;
using DeflectScan.Records.Storage;
using Microsoft.Data.Sqlite;

namespace DeflectScan.Records.Checking;

/// <summary>Reads a whole database: its structure, every row against its hash, every reference, and what is made from the rows.</summary>
internal static class DatabaseCheck
{
    private const string Rows = "All other rows can be had: import your latest export into a new archive, or export what can be read of this one first.";
    private const string MadeAgainBy = "It is made from the other rows: a repair makes it again.";
    private const int MostNamed = 200;

    /// <summary>The first damage in a few words, or null.</summary>
    public static string? FirstDamage(Database database, bool withRows) => All(database, withRows).FirstOrDefault() is { } d ? $"{d.Where}: {d.What}" : null;

    /// <summary>All damage, one after the other. A database that cannot be read at all gives one last damage that says so.</summary>
    public static IEnumerable<Damage> All(Database database, bool withRows = true)
    {
        using IEnumerator<Damage> damages = Found(database, withRows).GetEnumerator();
        int named = 0;
        while (true)
        {
            Damage? next = null;
            try
            {
                if (damages.MoveNext())
                    next = damages.Current;
            }
            catch (Exception e) when (e is SqliteException or ArchiveException or InputException or InvalidCastException)
            {
                next = new Damage("records.db", "it cannot be read to the end", Rows);
                named = MostNamed;
            }

            if (next is null)
                yield break;
            yield return next;
            if (++named >= MostNamed)
                yield break;
        }
    }

    private static IEnumerable<Damage> Found(Database database, bool withRows)
    {
        foreach (string line in database.List("PRAGMA integrity_check", r => r.GetString(0)).Where(l => l != "ok"))
            yield return new Damage("records.db", line.ReplaceLineEndings(" "), Rows);
        foreach (string table in database.List("PRAGMA foreign_key_check", r => r.GetString(0)))
            yield return new Damage($"records.db, {table}", "a row refers to one that is missing", Rows);
        if (!withRows)
            yield break;
        foreach (Damage damage in Tables.All.SelectMany(t => OfTable(database, t)).Concat(OfDocuments(database)).Concat(OfSummaries(database)))
            yield return damage;
        if ((long?)database.Scalar("SELECT count(*) FROM archive WHERE key IN ('id', 'created_at')") != 2)
            yield return new Damage("records.db, archive", "the archive's id or date is missing", Rows);
    }

    private static IEnumerable<Damage> OfTable(Database database, TableSpec table)
    {
        using SqliteCommand command = database.Command($"SELECT {table.ColumnList}, {TableSpec.SumColumn} FROM {table.Name}");
        using SqliteDataReader reader = command.ExecuteReader();
        while (reader.Read())
        {
            (Row? row, bool whole) = FactTables.Examine(table, reader);
            if (!whole)
                yield return new Damage($"records.db, {table.Name} {row?.Key}", "the row is not what was written", Rows);
        }
    }

    private static IEnumerable<Damage> OfDocuments(Database database)
    {
        using SqliteCommand command = database.Command($"SELECT sha256, packed, {WorstPairs.Columns} FROM documents LEFT JOIN worst_pairs ON document_sha256 = sha256");
        using SqliteDataReader reader = command.ExecuteReader();
        while (reader.Read())
        {
            string sha256 = reader.GetString(0);
            if (Documents.Unpack((byte[])reader.GetValue(1)) is not { } text || Documents.HashOf(text) != sha256)
                yield return new Damage($"records.db, document {sha256[..Math.Min(8, sha256.Length)]}", "it is not what was written", "Its main figures stand in the measurement's row; the rest is made again by measuring the photo, which is kept.");
            else if (WorstPairs.Of(text) != WorstPairs.Read(reader, 2))
                yield return new Damage($"records.db, pair that follows worst of document {sha256[..Math.Min(8, sha256.Length)]}", "it does not fit the document", MadeAgainBy);
        }
    }

    private static IEnumerable<Damage> OfSummaries(Database database)
    {
        Dictionary<string, (long Number, BuildSummary Summary)> kept = [];
        foreach ((long number, BuildSummary summary) in database.List($"SELECT {Summaries.Columns}, number FROM summaries", r => (r.GetInt64(20), Summaries.Read(r))))
            kept[summary.Id] = (number, summary);
        int builds = 0;
        foreach (string id in database.List("SELECT id FROM builds", r => r.GetString(0)))
        {
            builds++;
            if (BuildReading.Read(database, id) is not { } build)
                continue;
            (BuildSummary summary, string words) = Summaries.Of(build);
            if (!kept.TryGetValue(id, out (long Number, BuildSummary Summary) there) || there.Summary != summary)
                yield return new Damage($"records.db, summary of build {id}", "it does not fit the build", MadeAgainBy);
            else if ((string?)database.Scalar("SELECT words FROM search WHERE rowid = $1", there.Number) != words)
                yield return new Damage($"records.db, words of build {id}", "they do not fit the build", MadeAgainBy);
        }

        if ((long)database.Scalar("SELECT count(*) FROM search")! != builds)
            yield return new Damage("records.db, search", "it has words of no build", MadeAgainBy);
    }
}
