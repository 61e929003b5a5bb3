namespace DeflectScan.Reporting.Csv;

/// <summary>Many photos as one table (RFC 4180), a line each in their order.</summary>
public static class MeasurementsCsv
{
    /// <summary>The file's bytes: UTF-8, CRLF, the first line names the columns.</summary>
    public static byte[] Write(IEnumerable<MeasuredFile> files)
    {
        using MemoryStream stream = new();
        using (CsvWriter csv = new(stream))
        {
            csv.Line(["file", .. MeasurementColumns.Head]);
            foreach (MeasuredFile f in files)
                csv.Line([f.File, .. MeasurementColumns.Of(f.Measurement, f.Problem)]);
        }

        return stream.ToArray();
    }
}
