using System.Buffers.Binary;
using System.IO.Hashing;
using System.Text;

namespace DeflectScan.Writing;

/// <summary>
/// The program's name inside the pictures and pages that it writes, so that they can be told from a person's own photos and drawings:
/// a tEXt chunk in a PNG (W3C PNG specification, third edition, 11.3.3.2), a comment behind the last element of an SVG or HTML file.
/// PDF files carry it as their creator, export files in their comment, documents by their schema.
/// </summary>
internal static class OwnMark
{
    private const int PngHeadBytes = 8 + 25;
    private static readonly byte[] Name = "deflectscan"u8.ToArray();
    private static readonly byte[] Comment = "<!-- written by deflectscan -->\n"u8.ToArray();

    /// <summary>The file with its mark; as it is where it has one or can have none.</summary>
    public static byte[] Put(byte[] file) => FileKind.FormatOf(file) switch
    {
        _ when Has(file) => file,
        OutputFormat.Png when file.Length > PngHeadBytes => [.. file.AsSpan(0, PngHeadBytes), .. Chunk(), .. file.AsSpan(PngHeadBytes)],
        OutputFormat.Svg or OutputFormat.Html => [.. file, .. Comment],
        _ => file,
    };

    /// <summary>Whether a picture, page or export names this program as its maker.</summary>
    public static bool Has(ReadOnlySpan<byte> file) => FileKind.FormatOf(file) switch
    {
        OutputFormat.Png => file[Math.Min(PngHeadBytes, file.Length)..].StartsWith(Chunk()),
        OutputFormat.Svg or OutputFormat.Html => file.EndsWith(Comment),
        OutputFormat.Pdf => IsCreator(file),
        OutputFormat.Zip => file[^Math.Min(file.Length, 120)..].IndexOf("deflectscan-export"u8) >= 0,
        _ => false,
    };

    /// <summary>A PDF's /Creator (ISO 32000-1, 14.3.3) as PDFsharp and Skia write it: a literal string.</summary>
    private static bool IsCreator(ReadOnlySpan<byte> pdf)
    {
        while (pdf.IndexOf("/Creator"u8) is >= 0 and int at)
        {
            pdf = pdf[(at + 8)..];
            ReadOnlySpan<byte> value = pdf[..Math.Min(pdf.Length, 32)];
            if (Encoding.ASCII.GetString(value).TrimStart().StartsWith("(deflectscan)", StringComparison.OrdinalIgnoreCase))
                return true;
        }

        return false;
    }

    private static byte[] Chunk()
    {
        byte[] body = [.. "tEXtSoftware\0"u8, .. Name];
        byte[] chunk = new byte[4 + body.Length + 4];
        BinaryPrimitives.WriteInt32BigEndian(chunk, body.Length - 4);
        body.CopyTo(chunk, 4);
        BinaryPrimitives.WriteUInt32BigEndian(chunk.AsSpan(4 + body.Length), Crc32.HashToUInt32(body));
        return chunk;
    }
}
