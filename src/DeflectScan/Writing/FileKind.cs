using System.Text;
using System.Text.Json;

namespace DeflectScan.Writing;

/// <summary>What a file is, from its bytes and never from its name.</summary>
/// <param name="Format">Its format.</param>
/// <param name="Content">
/// What of that format: a document's schema, and the hash of its photo where it is a measurement; a table's heading; "own" for a picture or page
/// that this program wrote. Empty: a person's own, or not known.
/// </param>
public sealed record FileKind(OutputFormat Format, string Content)
{
    /// <summary>A person's own file, or one of no known format: never to be replaced unasked.</summary>
    public bool IsForeign => Content.Length == 0;

    /// <summary>Whether a file of this kind may take another's place: both are ours and the same. A document without a photo has nothing to lose.</summary>
    public bool MayReplace(FileKind there) =>
        !there.IsForeign && Format == there.Format && (Content == there.Content || Content.StartsWith(there.Content + " ", StringComparison.Ordinal));

    /// <summary>The kind of a whole file.</summary>
    public static FileKind Of(ReadOnlySpan<byte> file)
    {
        OutputFormat format = FormatOf(file);
        return new FileKind(format, format switch
        {
            OutputFormat.Json => Document(file),
            OutputFormat.Csv => Heading(file),
            _ => OwnMark.Has(file) ? "own" : "",
        });
    }

    internal static OutputFormat FormatOf(ReadOnlySpan<byte> file)
    {
        if (file.StartsWith((ReadOnlySpan<byte>)[0x89, (byte)'P', (byte)'N', (byte)'G']))
            return OutputFormat.Png;
        if (file.StartsWith((ReadOnlySpan<byte>)[0xFF, 0xD8, 0xFF]))
            return OutputFormat.Jpeg;
        if (file.StartsWith("%PDF-"u8))
            return OutputFormat.Pdf;
        if (file.StartsWith("PK\u0003\u0004"u8))
            return OutputFormat.Zip;
        ReadOnlySpan<byte> text = Trimmed(file);
        if (text.StartsWith("{"u8))
            return OutputFormat.Json;
        if (text.StartsWith("<"u8))
        {
            string start = Encoding.UTF8.GetString(text[..Math.Min(text.Length, 400)]);
            return start.Contains("<html", StringComparison.OrdinalIgnoreCase) ? OutputFormat.Html
                : start.Contains("<svg", StringComparison.Ordinal) ? OutputFormat.Svg : OutputFormat.Other;
        }

        return IsHeading(Line(text)) ? OutputFormat.Csv : OutputFormat.Other;
    }

    private static ReadOnlySpan<byte> Trimmed(ReadOnlySpan<byte> file) => (file.StartsWith((ReadOnlySpan<byte>)[0xEF, 0xBB, 0xBF]) ? file[3..] : file).TrimStart(" \t\r\n"u8);

    private static ReadOnlySpan<byte> Line(ReadOnlySpan<byte> text) => text.IndexOfAny((byte)'\r', (byte)'\n') is >= 0 and int end ? text[..end] : [];

    /// <summary>Names of columns as this program writes them: small letters, digits, underscores, with commas between.</summary>
    private static bool IsHeading(ReadOnlySpan<byte> line) =>
        line.Contains((byte)',') && !line.ContainsAnyExcept("abcdefghijklmnopqrstuvwxyz0123456789_,"u8);

    private static string Heading(ReadOnlySpan<byte> file) => Encoding.UTF8.GetString(Line(Trimmed(file)));

    /// <summary>A document's schema with its photo; the names of its fields where it names no schema; nothing where it is not whole.</summary>
    private static string Document(ReadOnlySpan<byte> file)
    {
        try
        {
            Utf8JsonReader reader = new(Trimmed(file));
            using JsonDocument json = JsonDocument.ParseValue(ref reader);
            string? schema = Reporting.Json.DocumentSchema.Of(json.RootElement);
            if (schema is null)
                return string.Join(' ', json.RootElement.EnumerateObject().Select(p => p.Name));
            bool measured = json.RootElement.TryGetProperty("photo", out JsonElement photo) && photo.ValueKind == JsonValueKind.Object;
            return measured && photo.TryGetProperty("sha256", out JsonElement hash) && hash.ValueKind == JsonValueKind.String ? $"{schema} {hash.GetString()}" : schema;
        }
        catch (JsonException)
        {
            return "";
        }
    }
}
