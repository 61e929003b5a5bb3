using System.Buffers;
using System.Text;
using System.Text.Encodings.Web;
using System.Text.Json;
using DeflectScan.Calibration;
using DeflectScan.Findings;
using DeflectScan.Tracing;

namespace DeflectScan.Reporting.Json;

/// <summary>
/// The measurement document, schema <c>deflectscan.measurement/1</c>: one JSON object in UTF-8. Lengths and pixels are rounded to 4 decimals
/// (0.1 µm), ratios to 6; a document that was read writes back byte for byte.
/// </summary>
public static class MeasurementJson
{
    public const string Schema = "deflectscan.measurement/1";

    internal const int LengthDecimals = 4;
    internal const int RatioDecimals = 6;

    /// <summary>The document with its last line ended.</summary>
    /// <exception cref="ArgumentException">A figure is not a number: such a measurement must not be given to anyone.</exception>
    public static string Write(Measurement measurement)
    {
        ArrayBufferWriter<byte> buffer = new(1 << 16);
        JsonWriterOptions options = new() { Indented = true, NewLine = "\n", Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping };
        using (Utf8JsonWriter json = new(buffer, options))
            new MeasurementWriter(json).Write(measurement);
        return Encoding.UTF8.GetString(buffer.WrittenSpan) + "\n";
    }

    /// <summary>Reads a document of this schema; members that this version does not know are passed over.</summary>
    public static Outcome<Measurement> Read(string document) => Parsed.Json(
        document,
        16,
        where => $"This is no measurement document, or it is cut off: it is not whole JSON{where}.",
        $"The measurement document is damaged: a member that schema {Schema} asks for is missing or of another kind.",
        root => MeasurementReader.Read(DocumentSchema.Checked(root, Schema)));

    /// <summary>A choice as documents have it: "needs_review".</summary>
    public static string Spell<T>(T choice)
        where T : struct, Enum => JsonNamingPolicy.SnakeCaseLower.ConvertName(choice.ToString());

    internal static string Spell(UncertaintyCause cause) => cause switch
    {
        UncertaintyCause.CardOff => "card_off_plane",
        UncertaintyCause.CardFlat => "card_flatness",
        UncertaintyCause.Rings => "ring_placement",
        _ => Spell<UncertaintyCause>(cause),
    };
}
