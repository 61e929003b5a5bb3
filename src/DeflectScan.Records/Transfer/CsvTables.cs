using DeflectScan.Reporting.Csv;
using DeflectScan.Records.Schema;
using DeflectScan.Reporting.Json;

namespace DeflectScan.Records.Transfer;

/// <summary>What a spreadsheet is given besides the tables of facts: a measurement's guides and pairs, one line each.</summary>
internal static class CsvTables
{
    public const string MeasuredGuides = "measured_guides";
    public const string Pairs = "pairs";

    private static readonly string[] GuideHead =
        ["measurement_id", "guide", "kind", "station_mm", "station_uncertainty_mm", "from_reel_mm", "height_mm", "height_uncertainty_mm", "ring_outer_mm", "line_angle_deg", "source"];

    private static readonly string[] PairHead =
    [
        "measurement_id", "from_guide", "to_guide", "chord_mm", "gap_mm", "gap_uncertainty_mm", "gap_at_mm", "bow_mm", "bow_uncertainty_mm", "bow_at_mm", "clearance_mm",
        "clearance_at_mm", "touches_blank", "source",
    ];

    public static void WriteRows(Stream stream, TableSpec table, IEnumerable<Row> rows)
    {
        using CsvWriter csv = new(stream);
        csv.Line(table.Columns.Select(c => c.Name));
        foreach (Row row in rows)
            csv.Line(row.Values);
    }

    public static void WriteGuides(Stream stream, IEnumerable<(string Id, Measurement Measurement)> measurements)
    {
        using CsvWriter csv = new(stream);
        csv.Line(GuideHead);
        foreach ((string id, Measurement m) in measurements)
        {
            foreach (GuideReport g in m.Guides)
            {
                csv.Line(
                    [id, g.Index, g.IsTip ? "tip" : "guide", g.StationMm, g.Station.UncertaintyMm, g.FromReelMm, g.HeightMm, g.Height.UncertaintyMm, g.RingOuterMm, g.LineAngleDeg, MeasurementJson.Spell(g.Source)]);
            }
        }
    }

    public static void WritePairs(Stream stream, IEnumerable<(string Id, Measurement Measurement)> measurements)
    {
        using CsvWriter csv = new(stream);
        csv.Line(PairHead);
        foreach ((string id, Measurement m) in measurements)
        {
            foreach (IntervalReport i in m.Intervals)
            {
                csv.Line(
                [
                    id, i.From, i.To, i.ChordMm, i.GapMm, i.Gap.UncertaintyMm, i.GapAtMm, i.BowMm, i.Bow.UncertaintyMm, i.BowAtMm, i.ClearanceMm, i.ClearanceAtMm, i.TouchesBlank,
                    MeasurementJson.Spell(i.Source),
                ]);
            }
        }
    }
}
