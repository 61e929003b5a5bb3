using DeflectScan.Records.Model;
using DeflectScan.Reporting.Json;
using Microsoft.Data.Sqlite;

namespace DeflectScan.Records.Storage;

/// <summary>The running pair that follows worst, beside each document: made from it, so that lists need not read documents.</summary>
internal static class WorstPairs
{
    public const string Columns = "worst_from, worst_to, worst_to_tip, worst_by, worst_mm, worst_uncertainty_mm";

    public static void Add(Database database, string documentSha256, WorstPair? pair)
    {
        if (pair is not null)
            database.Execute($"INSERT OR REPLACE INTO worst_pairs (document_sha256, {Columns}) VALUES ($1, $2, $3, $4, $5, $6, $7)", [documentSha256, .. Values(pair)]);
    }

    /// <summary>Makes all of them again. A document that is not what was written has none.</summary>
    public static void MakeAgain(Database database)
    {
        database.Execute("DELETE FROM worst_pairs");
        foreach (string sha256 in database.List("SELECT sha256 FROM documents ORDER BY sha256", r => r.GetString(0)))
        {
            if (database.Scalar("SELECT packed FROM documents WHERE sha256 = $1", sha256) is byte[] packed && Documents.Unpack(packed) is { } text && Documents.HashOf(text) == sha256)
                Add(database, sha256, Of(text));
        }
    }

    /// <summary>What a document says; null where it says nothing of it or is none.</summary>
    public static WorstPair? Of(string document) => MeasurementJson.Read(document).Value is { } m ? WorstPair.Of(m) : null;

    /// <summary>Those of some documents, by hash.</summary>
    /// <param name="database">The archive's.</param>
    /// <param name="documents">SQL that selects the hashes.</param>
    /// <param name="values">Of its parameters.</param>
    public static Dictionary<string, WorstPair> Of(Database database, string documents, params object?[] values) => database
        .List($"SELECT {Columns}, document_sha256 FROM worst_pairs WHERE document_sha256 IN ({documents})", r => (Sha256: r.GetString(6), Pair: Read(r, 0)!), values)
        .ToDictionary(p => p.Sha256, p => p.Pair);

    public static object?[] Values(WorstPair? p) =>
        p is null ? new object?[6] : [(long)p.From, (long)p.To, p.ToTip ? 1L : 0L, p.By, p.Mm, p.UncertaintyMm];

    public static WorstPair? Read(SqliteDataReader r, int first) => r.IsDBNull(first)
        ? null
        : new WorstPair(r.GetInt32(first), r.GetInt32(first + 1), r.GetInt32(first + 2) != 0, r.GetString(first + 3) == "clearance", r.GetDouble(first + 4), r.GetDouble(first + 5));
}
