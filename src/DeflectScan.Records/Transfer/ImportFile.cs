using System.Text;
using System.Text.Json;
using DeflectScan.Findings;
using DeflectScan.Records.Model;
using DeflectScan.Records.Schema;
using DeflectScan.Records.Storage;
using DeflectScan.Reporting.Json;
using Microsoft.Data.Sqlite;

namespace DeflectScan.Records.Transfer;

/// <summary>What was imported.</summary>
/// <param name="Builds">Builds that are new here.</param>
/// <param name="Measurements">Measurements that are new here.</param>
/// <param name="Photos">Photos that are new here.</param>
/// <param name="Rows">Rows of all kinds that are new here.</param>
/// <param name="SameRows">Rows that were here already.</param>
public sealed record ImportReport(int Builds, int Measurements, int Photos, int Rows, int SameRows);

/// <summary>
/// Takes an export into an archive: all of it or nothing. Rows that are there already stay as they are; photos that are damaged here are put right.
/// </summary>
public static class ImportFile
{
    private const int Constraint = 19;

    /// <exception cref="ArchiveException">The export is not whole, or contradicts the archive: nothing was imported.</exception>
    public static ImportReport Read(ArchiveWriter writer, string path)
    {
        using ZipIn zip = Faults.Guarded(() => ZipIn.Open(path));
        try
        {
            return writer.AsOne(() => Take(writer, zip));
        }
        catch (ArchiveException e) when (e.InnerException is SqliteException { SqliteErrorCode: Constraint })
        {
            throw ZipIn.Refused("The export's rows do not fit together: it was made by hand or left something out; nothing was imported.", e);
        }
        catch (Exception e) when (e is InputException or JsonException or InvalidDataException or DecoderFallbackException or KeyNotFoundException or InvalidOperationException)
        {
            throw ZipIn.Refused($"The export holds what this program does not write ({e.Message.TrimEnd('.')}): nothing was imported.", e);
        }
    }

    private static ImportReport Take(ArchiveWriter writer, ZipIn zip)
    {
        Dictionary<string, int> fresh = Tables.All.ToDictionary(t => t.Name, _ => 0);
        int same = 0;
        Parents parents = new(writer.Database);
        HashSet<string> changed = [];
        foreach (TableSpec table in Tables.All)
        {
            // Exports of earlier schemas have no such table.
            if (Tables.Later.Contains(table) && !zip.Has(ExportFormat.Table(table.Name)))
                continue;
            foreach (JsonElement element in zip.ReadList(ExportFormat.Table(table.Name)))
            {
                Row row = RowJson.Read(table, element);
                ImportChecks.Check(row);
                Accompany(writer, zip, row);
                switch (FactTables.Add(writer.Database, row))
                {
                    case FactTables.Added.New:
                        fresh[table.Name]++;
                        if (parents.BuildOf(row) is { } build)
                            changed.Add(build);
                        if (table == Tables.Standings && row.OptionalText("to_build_id") is { } target)
                            changed.Add(target);
                        break;
                    case FactTables.Added.SameWasThere:
                        same++;
                        break;
                    default:
                        throw ZipIn.Refused($"The export's {table.Name} {row.Key} is not the one that is here: one of the two is damaged or was made by hand; nothing was imported.");
                }
            }
        }

        foreach (string build in changed)
            Summaries.Refresh(writer.Database, build);
        return new ImportReport(fresh["builds"], fresh["measurements"], fresh["photos"], fresh.Values.Sum(), same);
    }

    /// <summary>What must be there before a row is: a photo's file, a measurement's document, what a row refers to.</summary>
    private static void Accompany(ArchiveWriter writer, ZipIn zip, Row row)
    {
        if (row.Table == Tables.Photos)
        {
            string name = ExportFormat.Photo(row.Text("sha256"), row.Text("extension"));
            if (!zip.Has(name) && zip.IsSalvaged)
                return;
            if (!writer.Photos.Put(row, () => zip.Read(name)))
                throw new InvalidDataException("a photo is not what its name says");
        }

        if (row.Table == Tables.Lenses && Documents.HashOf(row.Text("profile")) != row.Text("sha256"))
            throw new InvalidDataException("a lens profile is not what its name says");
        if (row.Table == Tables.Measurements)
        {
            string text = zip.ReadText(ExportFormat.Document(row.Text("document_sha256")));
            Measurement measurement = MeasurementJson.Read(text).OrDamaged();
            if (Documents.Add(writer.Database, text) != row.Text("document_sha256") || measurement.Photo?.Sha256 != row.Text("photo_sha256"))
                throw new InvalidDataException("a measurement's document is not its own");
        }
    }

    /// <summary>Which build a row belongs to, and that what it refers to is there.</summary>
    private sealed class Parents(Database database)
    {
        public string? BuildOf(Row row)
        {
            if (row.Table == Tables.Builds)
                return row.Text("id");
            if (row.Table == Tables.Guides)
                return (string?)database.Scalar("SELECT build_id FROM revisions WHERE id = $1", row.Text("revision_id"));
            if (row.Table == Tables.LayoutGuides)
                return (string?)database.Scalar("SELECT build_id FROM layouts WHERE id = $1", row.Text("layout_id"));
            if (row.Table == Tables.ProofReadings)
                return (string?)database.Scalar("SELECT build_id FROM proofs WHERE id = $1", row.Text("proof_id"));
            return row.Table.Columns.Any(c => c.Name == "build_id") ? row.Text("build_id") : null;
        }
    }
}
