using System.Globalization;
using System.Text;

namespace DeflectScan.Reporting.Csv;

/// <summary>Comma-separated values by RFC 4180: lines end with CRLF, a field with a comma, a quote or a line end stands in quotes. UTF-8, no mark.</summary>
internal sealed class CsvWriter(Stream stream) : IDisposable
{
    private readonly StreamWriter _writer = new(stream, new UTF8Encoding(false), 1 << 16, leaveOpen: true) { NewLine = "\r\n" };

    public void Line(IEnumerable<object?> fields) => _writer.WriteLine(string.Join(',', fields.Select(Field)));

    public void Dispose() => _writer.Dispose();

    private static string Field(object? value)
    {
        string text = value switch
        {
            null => "",
            string s => s,
            double real => (real == 0 ? 0 : real).ToString("R", CultureInfo.InvariantCulture),
            bool truth => truth ? "true" : "false",
            IFormattable other => other.ToString(null, CultureInfo.InvariantCulture),
            _ => value.ToString() ?? "",
        };
        return text.AsSpan().ContainsAny(",\"\r\n") ? $"\"{text.Replace("\"", "\"\"", StringComparison.Ordinal)}\"" : text;
    }
}
