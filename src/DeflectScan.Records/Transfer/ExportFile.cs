using System.Text.Json;
using DeflectScan.Records.Model;
using DeflectScan.Records.Schema;
using DeflectScan.Records.Storage;
using DeflectScan.Reporting.Json;

namespace DeflectScan.Records.Transfer;

/// <summary>What was exported.</summary>
/// <param name="Builds">Builds in the file.</param>
/// <param name="Measurements">Measurements in the file.</param>
/// <param name="Photos">Photos in the file.</param>
/// <param name="Bytes">Size of the file.</param>
/// <param name="LeftOut">What is damaged and was left out; only ever with salvage.</param>
public sealed record ExportReport(int Builds, int Measurements, int Photos, long Bytes, IReadOnlyList<string> LeftOut);

/// <summary>Writes an archive as one zip file that any unzip opens. The same facts give the same bytes.</summary>
public static class ExportFile
{
    private const string About = """
        This is an export of an archive of fishing rod builds and their static deflection tests.

        tables/     every row of the archive as JSON; lengths in mm, times in UTC
        csv/        the same for a spreadsheet (RFC 4180), and the measured guides and pairs
        documents/  each measurement's own document, named by the hash of its text
        photos/     the original photos, named by the SHA-256 of their bytes
        manifest.json  size and SHA-256 of every file

        deflectscan records import FILE takes it into an archive. The file must be as it was exported: a changed or repacked one is refused.
        """;

    /// <summary>Exports an archive.</summary>
    /// <param name="reader">The archive; it is read as it stands at one moment.</param>
    /// <param name="path">The file; one that is there is replaced when the new one is whole.</param>
    /// <param name="salvage">Leave out what is damaged and what depends on it, instead of stopping.</param>
    public static ExportReport Write(ArchiveReader reader, string path, bool salvage = false) => Write(reader, path, salvage, DiskFiles.Instance);

    internal static ExportReport Write(ArchiveReader reader, string path, bool salvage, IDurableFiles files) => Faults.Guarded(() =>
    {
        ExportReport? report = null;
        string full = Path.GetFullPath(path);
        if (Directory.Exists(full) || !Directory.Exists(Path.GetDirectoryName(full)))
            throw new ArchiveException(ArchiveProblem.Refused, "The export's folder is not there, or its name is that of a folder: give another name.");
        reader.Database.Execute("BEGIN");
        try
        {
            DurableWrite.Whole(files, full, file =>
            {
                report = Fill(new Facts(reader, salvage), file);
                ExportFormat.Close(file);
                report = report with { Bytes = file.Length };
                return true;
            });
        }
        finally
        {
            reader.Database.Execute("ROLLBACK");
        }

        return report!;
    });

    private static ExportReport Fill(Facts facts, FileStream file)
    {
        Dictionary<string, int> counts = [];
        using (ZipOut zip = new(file))
        {
            zip.Text(ExportFormat.ReadMe, About + "\n");
            foreach (TableSpec table in Tables.All)
            {
                counts[table.Name] = 0;
                zip.Add(ExportFormat.Table(table.Name), stream => WriteJson(stream, facts.Rows(table).Select(r =>
                {
                    counts[table.Name]++;
                    return r;
                })));
                zip.Add(ExportFormat.Csv(table.Name), stream => CsvTables.WriteRows(stream, table, facts.Rows(table)));
            }

            zip.Add(ExportFormat.Csv(CsvTables.MeasuredGuides), stream => CsvTables.WriteGuides(stream, Measurements(facts)));
            zip.Add(ExportFormat.Csv(CsvTables.Pairs), stream => CsvTables.WritePairs(stream, Measurements(facts)));
            foreach (string sha256 in facts.DocumentHashes())
                zip.Text(ExportFormat.Document(sha256), facts.Document(sha256));
            foreach (Row photo in facts.PhotoFiles())
                zip.Copy(ExportFormat.Photo(photo.Text("sha256"), photo.Text("extension")), facts.PhotoPath(photo), photo.Text("sha256"));
            zip.Manifest(isSalvaged: facts.IsSalvaged);
        }

        return new ExportReport(counts["builds"], counts["measurements"], counts["photos"], 0, facts.LeftOut);
    }

    private static IEnumerable<(string, Measurement)> Measurements(Facts facts) =>
        facts.Rows(Tables.Measurements).Select(m => (m.Text("id"), MeasurementJson.Read(facts.Document(m.Text("document_sha256"))).OrDamaged()));

    private static void WriteJson(Stream stream, IEnumerable<Row> rows)
    {
        using Utf8JsonWriter json = new(stream, ZipOut.Readable);
        json.WriteStartArray();
        foreach (Row row in rows)
        {
            RowJson.Write(json, row);
            if (json.BytesPending > 1 << 16)
                json.Flush();
        }

        json.WriteEndArray();
    }
}
