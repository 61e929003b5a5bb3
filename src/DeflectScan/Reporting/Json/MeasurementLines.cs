using System.Buffers;
using System.Text;
using System.Text.Encodings.Web;
using System.Text.Json;

namespace DeflectScan.Reporting.Json;

/// <summary>
/// Many measurements as lines of JSON: each line is a measurement document on one line, its figures letter for letter those of the document by itself,
/// with the photo's name as the member <c>file</c> before all others. A photo at which something unexpected went wrong has <c>file</c> and <c>problem</c> alone.
/// </summary>
public static class MeasurementLines
{
    private static readonly JsonWriterOptions OneLine = new() { Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping };

    /// <summary>One line with its end.</summary>
    public static string Line(MeasuredFile file)
    {
        ArrayBufferWriter<byte> buffer = new(1 << 16);
        using (Utf8JsonWriter json = new(buffer, OneLine))
        {
            json.WriteStartObject();
            json.WriteString("file", file.File);
            if (file.Measurement is { } measurement)
            {
                using JsonDocument document = JsonDocument.Parse(MeasurementJson.Write(measurement));
                foreach (JsonProperty member in document.RootElement.EnumerateObject())
                    member.WriteTo(json);
            }
            else
            {
                json.WriteString("problem", file.Problem);
            }

            json.WriteEndObject();
        }

        return Encoding.UTF8.GetString(buffer.WrittenSpan) + "\n";
    }
}
