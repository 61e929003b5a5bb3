using DeflectScan.Records.Model;
using DeflectScan.Records.Schema;
using DeflectScan.Records.Storage;
using DeflectScan.Records.Transfer;

namespace DeflectScan.Records.Reports;

/// <summary>A build's tables as CSV files (RFC 4180), one a table.</summary>
public static class BuildCsv
{
    /// <summary>Name and bytes of each file.</summary>
    public static IReadOnlyList<(string Name, byte[] Bytes)> Write(ArchiveReader reader, Build build) => Faults.Guarded(() =>
    {
        (string Id, Measurement Measurement)[] measured = [.. build.Measurements.Select(m => (m.Id, reader.Measurement(m)))];
        (TableSpec Table, string Where)[] tables =
        [
            (Tables.Revisions, "WHERE build_id = $1 ORDER BY at, id"),
            (Tables.Guides, "WHERE revision_id IN (SELECT id FROM revisions WHERE build_id = $1) ORDER BY revision_id, position"),
            (Tables.Measurements, "WHERE build_id = $1 OR id IN (SELECT measurement_id FROM standings WHERE to_build_id = $1) ORDER BY made_at, id"),
            (Tables.Layouts, "WHERE build_id = $1 ORDER BY at, id"),
            (Tables.LayoutGuides, "WHERE layout_id IN (SELECT id FROM layouts WHERE build_id = $1) ORDER BY layout_id, position"),
            (Tables.Choices, "WHERE build_id = $1 ORDER BY at, id"),
            (Tables.Notes, "WHERE build_id = $1 ORDER BY at, id"),
            (Tables.Standings, "WHERE build_id = $1 OR to_build_id = $1 ORDER BY at, id"),
            (Tables.Proofs, ProofRows.OfBuild + " ORDER BY at, id"),
            (Tables.ProofReadings, $"WHERE proof_id IN (SELECT id FROM proofs {ProofRows.OfBuild}) ORDER BY proof_id, position"),
        ];
        return (IReadOnlyList<(string, byte[])>)
        [
            .. tables.Select(t => (t.Table.Name + ".csv", Bytes(s => CsvTables.WriteRows(s, t.Table, FactTables.Read(reader.Database, t.Table, t.Where, build.Id))))),
            (CsvTables.MeasuredGuides + ".csv", Bytes(s => CsvTables.WriteGuides(s, measured))),
            (CsvTables.Pairs + ".csv", Bytes(s => CsvTables.WritePairs(s, measured))),
        ];
    });

    private static byte[] Bytes(Action<Stream> write)
    {
        using MemoryStream stream = new();
        write(stream);
        return stream.ToArray();
    }
}
