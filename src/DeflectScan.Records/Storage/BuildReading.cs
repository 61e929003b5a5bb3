using DeflectScan.Records.Model;
using DeflectScan.Records.Schema;

namespace DeflectScan.Records.Storage;

/// <summary>Puts a build together from its rows.</summary>
internal static class BuildReading
{
    private const string OfBuild = "WHERE build_id = $1 ORDER BY at, id";

    public static Build? Read(Database database, string buildId)
    {
        if (FactTables.Read(database, Tables.Builds, "WHERE id = $1", buildId) is not [Row build])
            return null;
        ILookup<string, Row> guides = FactTables
            .Read(database, Tables.Guides, "WHERE revision_id IN (SELECT id FROM revisions WHERE build_id = $1)", buildId)
            .ToLookup(g => g.Text("revision_id"));
        List<(DateTime, BuildFacts)> history =
            [.. FactTables.Read(database, Tables.Revisions, OfBuild, buildId).Select(r => (RowsOf.Time(r.Text("at")), RowsOf.Facts(r, guides[r.Text("id")])))];
        if (history.Count == 0)
            throw Faults.Damaged("a build has no description");
        ILookup<string, Row> stations = FactTables
            .Read(database, Tables.LayoutGuides, "WHERE layout_id IN (SELECT id FROM layouts WHERE build_id = $1)", buildId)
            .ToLookup(g => g.Text("layout_id"));
        List<StoredMeasurement> measurements = Measurements(database, buildId);
        return new Build(
            buildId,
            RowsOf.Time(build.Text("created_at")),
            history[^1].Item2,
            history,
            measurements,
            [.. FactTables.Read(database, Tables.Layouts, OfBuild, buildId).Select(r => RowsOf.Layout(r, stations[r.Text("id")]))],
            FactTables.Read(database, Tables.Choices, OfBuild, buildId).LastOrDefault()?.Text("layout_id"),
            [.. FactTables.Read(database, Tables.Notes, OfBuild, buildId).Select(RowsOf.Note)])
        {
            Proofs = ProofRows.Read(database, buildId, measurements),
        };
    }

    public static List<StoredMeasurement> Measurements(Database database, string buildId) =>
        Standings.Of(database, buildId);
}
