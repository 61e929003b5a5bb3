using DeflectScan.Records.Model;
using DeflectScan.Records.Schema;

namespace DeflectScan.Records.Storage;

/// <summary>Which measurements are a build's now, and which of them were set aside: what was said last of each holds.</summary>
internal static class Standings
{
    public const string Aside = "aside";
    public const string Counts = "counts";
    public const string Moved = "moved";

    /// <summary>A build's measurements by the time they were made: its own without those moved away, and those moved to it.</summary>
    public static List<StoredMeasurement> Of(Database database, string buildId)
    {
        ILookup<string, Row> said = FactTables.Read(
            database, Tables.Standings,
            "WHERE measurement_id IN (SELECT measurement_id FROM standings WHERE build_id = $1 OR to_build_id = $1) ORDER BY at, id", buildId).ToLookup(r => r.Text("measurement_id"));
        List<StoredMeasurement> all =
        [
            .. FactTables.Read(
                database, Tables.Measurements,
                "WHERE build_id = $1 OR id IN (SELECT measurement_id FROM standings WHERE to_build_id = $1) ORDER BY made_at, id", buildId).Select(RowsOf.Measurement),
        ];
        Dictionary<string, WorstPair> worst = WorstPairs.Of(
            database, "SELECT document_sha256 FROM measurements WHERE build_id = $1 OR id IN (SELECT measurement_id FROM standings WHERE to_build_id = $1)", buildId);
        return [.. all.Select(m => As(m with { Worst = worst.GetValueOrDefault(m.DocumentSha256) }, said[m.Id])).Where(m => m.BuildId == buildId)];
    }

    private static StoredMeasurement As(StoredMeasurement m, IEnumerable<Row> said)
    {
        foreach (Row row in said)
        {
            m = row.Text("state") switch
            {
                Aside => m with { IsSetAside = true, AsideReason = row.OptionalText("reason") },
                Counts => m with { IsSetAside = false, AsideReason = null },
                _ => m with { BuildId = row.OptionalText("to_build_id") ?? m.BuildId },
            };
        }

        return m;
    }
}
