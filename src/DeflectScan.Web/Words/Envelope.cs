using System.Text.Encodings.Web;
using System.Text.Json;
using DeflectScan.Geometry;

namespace DeflectScan.Web.Words;

/// <summary>A command's own JSON, letter for letter, as the member "report" of an object that says around it what a person reads in the asked unit.</summary>
internal static class Envelope
{
    public static byte[] Of(string report, Action<Utf8JsonWriter> around)
    {
        using MemoryStream bytes = new();
        using (Utf8JsonWriter writer = new(bytes, new JsonWriterOptions { Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping }))
        {
            writer.WriteStartObject();
            around(writer);
            writer.WritePropertyName("report");
            writer.WriteRawValue(report);
            writer.WriteEndObject();
        }

        return bytes.ToArray();
    }

    public static void Sentences(Utf8JsonWriter writer, string name, IEnumerable<string> sentences, LengthUnit unit)
    {
        writer.WriteStartArray(name);
        foreach (string sentence in sentences)
            writer.WriteStringValue(PageWords.Of(sentence, unit));
        writer.WriteEndArray();
    }

    public static void Number(Utf8JsonWriter writer, string name, double? value)
    {
        if (value is { } number)
            writer.WriteNumber(name, number);
        else
            writer.WriteNull(name);
    }
}
