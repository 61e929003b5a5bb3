using DeflectScan.Proving;
using DeflectScan.Records.Model;
using DeflectScan.Records.Schema;
using DeflectScan.Reporting.Json;

namespace DeflectScan.Records.Storage;

/// <summary>Proofs into rows and back, and what all of them come to.</summary>
internal static class ProofRows
{
    /// <summary>A build's proofs: those of the measurements that are its own now or were; $1 is the build.</summary>
    public const string OfBuild = "WHERE measurement_id IN (SELECT id FROM measurements WHERE build_id = $1 UNION SELECT measurement_id FROM standings WHERE to_build_id = $1)";

    public static IEnumerable<Row> Of(string id, string buildId, string measurementId, string at, Measurement m, ProofReport p) =>
    [
        new(
            Tables.Proofs,
            id, buildId, measurementId, at, ProvedSet.CameraOf(m), ProvedSet.CardsOf(m), MeasurementJson.Spell(p.Verdict), p is { Verdict: ProofVerdict.Disagree, Causes.Count: > 0 } ? ProofJson.Spell(p.Causes[0].Cause) : null,
            p.ChiSquare, p.Probability, p.LargestEn),
        .. p.Readings.Select((r, i) => new Row(
            Tables.ProofReadings,
            id, i + 1, r.Reading.Kind == ReadingKind.Gap ? "gap" : "station", r.Reading.From, r.Reading.To, r.Reading.Mm, r.Reading.UncertaintyMm, r.PhotoMm, r.PhotoUncertaintyMm)),
    ];

    /// <summary>The proofs of a build's measurements, oldest first.</summary>
    public static IReadOnlyList<StoredProof> Read(Database database, string buildId, IReadOnlyList<StoredMeasurement> measurements)
    {
        HashSet<string> own = [.. measurements.Select(m => m.Id)];
        ILookup<string, Row> readings = FactTables.Read(database, Tables.ProofReadings, $"WHERE proof_id IN (SELECT id FROM proofs {OfBuild})", buildId).ToLookup(r => r.Text("proof_id"));
        return
        [
            .. FactTables.Read(database, Tables.Proofs, OfBuild + " ORDER BY at, id", buildId).Where(r => own.Contains(r.Text("measurement_id"))).Select(r => Proof(r, readings[r.Text("id")])),
        ];
    }

    /// <summary>Camera by camera and set by set, the one with most readings first.</summary>
    public static IReadOnlyList<ProvedSet> Sets(Database database)
    {
        const string Counting = """
            FROM proofs p WHERE NOT EXISTS (SELECT 1 FROM proofs later WHERE later.measurement_id = p.measurement_id AND (later.at, later.id) > (p.at, p.id))
            AND coalesce((SELECT state FROM standings s WHERE s.measurement_id = p.measurement_id AND state <> 'moved' ORDER BY s.at DESC, s.id DESC LIMIT 1), 'counts') = 'counts'
            """;
        List<(string Camera, string Cards, string Build, string Verdict, double ChiSquare, double LargestEn, int Readings)> all = database.List(
            $"SELECT camera, cards, build_id, verdict, chi_square, largest_en, (SELECT count(*) FROM proof_readings r WHERE r.proof_id = p.id) {Counting}",
            r => (r.GetString(0), r.GetString(1), r.GetString(2), r.GetString(3), r.GetDouble(4), r.GetDouble(5), r.GetInt32(6)));
        return
        [
            .. all.GroupBy(p => (p.Camera, p.Cards)).Select(g =>
            {
                var counting = g.Where(p => p.Verdict != MeasurementJson.Spell(ProofVerdict.TooRough)).ToArray();
                return new ProvedSet(
                    g.Key.Camera, g.Key.Cards, g.Select(p => p.Build).Distinct().Count(), g.Count(), counting.Sum(p => p.Readings), counting.Select(p => p.LargestEn).DefaultIfEmpty().Max(),
                    counting.Sum(p => p.ChiSquare), g.Count(p => p.Verdict == MeasurementJson.Spell(ProofVerdict.Disagree)), g.Count() - counting.Length);
            }).OrderByDescending(s => s.Readings).ThenBy(s => s.Camera, StringComparer.Ordinal),
        ];
    }

    private static StoredProof Proof(Row r, IEnumerable<Row> readings) => new(
        r.Text("id"), r.Text("measurement_id"), RowsOf.Time(r.Text("at")), r.Text("camera"), r.Text("cards"), Verdict(r.Text("verdict")), r.OptionalText("cause"), r.Real("chi_square"),
        r.Real("probability"), r.Real("largest_en"), [.. readings.OrderBy(x => x.Whole("position")).Select(Reading)]);

    private static ComparedReading Reading(Row r) => new(
        new HandReading(
            r.Text("kind") == "gap" ? ReadingKind.Gap : ReadingKind.Station, r.Whole("from_guide"), r.OptionalWhole("to_guide"), r.Real("reading_mm"), r.Real("reading_uncertainty_mm")),
        r.Real("photo_mm"), r.Real("photo_uncertainty_mm"));

    private static ProofVerdict Verdict(string text) => text switch { "agree" => ProofVerdict.Agree, "disagree" => ProofVerdict.Disagree, _ => ProofVerdict.TooRough };
}
