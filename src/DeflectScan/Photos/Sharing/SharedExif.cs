using System.Buffers.Binary;
using System.Text;

namespace DeflectScan.Photos;

/// <summary>
/// An EXIF block with only what measuring reads (<see cref="ExifFacts"/>): orientation, time, make, model, lens, focal lengths, digital zoom. Written anew (TIFF 6.0, least
/// significant byte first), so that nothing else of the camera's block can be left in it.
/// </summary>
internal static class SharedExif
{
    private const ushort Short = 3;
    private const ushort Ascii = 2;
    private const ushort Long = 4;
    private const ushort Rational = 5;

    /// <summary>The block from its TIFF header on; empty where there was none.</summary>
    public static byte[] Of(ReadOnlyMemory<byte> block)
    {
        if (block.IsEmpty)
            return [];
        ExifFacts facts = ExifFacts.Read(block);
        List<Entry> camera =
        [
            .. Text(0x010F, facts.Make), .. Text(0x0110, facts.Model),
            new(0x0112, Short, 1, Two(facts.Orientation)),
        ];
        List<Entry> picture =
        [
            .. Text(0x9003, facts.TakenAt?.ToString("yyyy:MM:dd HH:mm:ss", System.Globalization.CultureInfo.InvariantCulture)),
            .. Ratio(0x920A, facts.FocalLengthMm), .. Ratio(0xA404, facts.DigitalZoom),
            .. facts.FocalLength35Mm is { } mm ? (Entry[])[new(0xA405, Short, 1, Two((int)Math.Round(mm)))] : [],
            .. Text(0xA434, facts.Lens),
        ];
        int exifAt = 8 + Size(camera.Count + 1);
        camera.Add(new(0x8769, Long, 1, Four((uint)exifAt)));
        int dataAt = exifAt + Size(picture.Count);
        using MemoryStream made = new();
        made.Write([(byte)'I', (byte)'I', 42, 0, 8, 0, 0, 0]);
        List<byte> data = [];
        Directory(made, camera, data, dataAt);
        Directory(made, picture, data, dataAt);
        made.Write([.. data]);
        return made.ToArray();
    }

    private static int Size(int entries) => 2 + (12 * entries) + 4;

    private static void Directory(MemoryStream made, List<Entry> entries, List<byte> data, int dataAt)
    {
        made.Write(Two(entries.Count));
        foreach (Entry e in entries.OrderBy(e => e.Tag))
        {
            made.Write(Two(e.Tag));
            made.Write(Two(e.Kind));
            made.Write(Four((uint)e.Count));
            if (e.Bytes.Length <= 4)
            {
                made.Write([.. e.Bytes, .. new byte[4 - e.Bytes.Length]]);
                continue;
            }

            made.Write(Four((uint)(dataAt + data.Count)));
            data.AddRange(e.Bytes);
            if (data.Count % 2 == 1)
                data.Add(0);
        }

        made.Write(Four(0)); // no further directory: no thumbnail
    }

    private static IEnumerable<Entry> Text(ushort tag, string? text)
    {
        if (text is null)
            yield break;
        byte[] bytes = [.. Encoding.UTF8.GetBytes(text), 0];
        yield return new Entry(tag, Ascii, bytes.Length, bytes);
    }

    private static IEnumerable<Entry> Ratio(ushort tag, double? value)
    {
        const uint Parts = 10_000;
        if (value is { } v)
            yield return new Entry(tag, Rational, 1, [.. Four((uint)Math.Round(v * Parts)), .. Four(Parts)]);
    }

    private static byte[] Two(int value)
    {
        byte[] bytes = new byte[2];
        BinaryPrimitives.WriteUInt16LittleEndian(bytes, (ushort)value);
        return bytes;
    }

    private static byte[] Four(uint value)
    {
        byte[] bytes = new byte[4];
        BinaryPrimitives.WriteUInt32LittleEndian(bytes, value);
        return bytes;
    }

    private sealed record Entry(ushort Tag, ushort Kind, int Count, byte[] Bytes);
}
