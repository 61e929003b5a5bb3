using System.Buffers.Binary;
using System.Text;
using SixLabors.ImageSharp.Metadata.Profiles.Exif;

namespace DeflectScan.Photos;

/// <summary>An EXIF block with nothing but what measuring uses (<see cref="ExifFacts"/>): no place, no owner, no serial number, no maker's notes, no small picture.</summary>
internal static class PlainExif
{
    /// <summary>Tags 0 to 31 are the place's (EXIF 2.32, from memory); the camera's and the picture's begin at 0xFE.</summary>
    private const ushort LastOfPlace = 0x1F;

    private const ushort Ascii = 2, Short = 3, Long = 4, Ratio = 5;

    /// <summary>The block from its TIFF header on, or an empty one where nothing is left; and whether the given one said where the photo was taken.</summary>
    public static (byte[] Block, bool SaidPlace) Of(ReadOnlyMemory<byte> block)
    {
        ExifFacts facts = ExifFacts.Read(block);
        if (block.Length < 8 || block.Length > ImageHeader.MaxExifBytes)
            return ([], false);
        try
        {
            ExifProfile profile = new(block.ToArray());
            List<Entry> camera = [], exif = [];
            Text(camera, 0x010F, facts.Make);
            Text(camera, 0x0110, facts.Model);
            camera.Add(new Entry(0x0112, Short, 1, Two((ushort)facts.Orientation)));
            Text(exif, 0x9003, facts.TakenAt?.ToString("yyyy:MM:dd HH:mm:ss", System.Globalization.CultureInfo.InvariantCulture));
            if (facts.FocalLengthMm is not null && profile.GetValue(ExifTag.FocalLength)?.Value is { } focal)
                exif.Add(new Entry(0x920A, Ratio, 1, [.. Four(focal.Numerator), .. Four(focal.Denominator)]));
            if (facts.DigitalZoom is not null && profile.GetValue(ExifTag.DigitalZoomRatio)?.Value is { } zoom)
                exif.Add(new Entry(0xA404, Ratio, 1, [.. Four(zoom.Numerator), .. Four(zoom.Denominator)]));
            if (facts.FocalLength35Mm is { } whole)
                exif.Add(new Entry(0xA405, Short, 1, Two((ushort)whole)));
            Text(exif, 0xA434, facts.Lens);
            bool place = profile.Values.Any(v => (ushort)v.Tag <= LastOfPlace); // by number: names of tags are looked up by reflection, which the published program lacks
            return (Written(camera, exif), place);
        }
        catch (Exception e) when (e is not OutOfMemoryException)
        {
            return ([], false); // As in ExifFacts: a hostile block counts as no block.
        }
    }

    private static byte[] Written(List<Entry> camera, List<Entry> exif)
    {
        camera.Add(new Entry(0x8769, Long, 1, [0, 0, 0, 0]));
        int second = 8 + SizeOf(camera);
        camera[^1] = camera[^1] with { Bytes = Four((uint)second) };
        return [.. "MM\0*"u8, .. Four(8), .. Folder(camera, 8), .. Folder(exif, second)];
    }

    private static int SizeOf(List<Entry> entries) => 2 + (12 * entries.Count) + 4 + entries.Where(e => e.Bytes.Length > 4).Sum(e => e.Bytes.Length + (e.Bytes.Length & 1));

    private static byte[] Folder(List<Entry> entries, int at)
    {
        List<byte> head = [.. Two((ushort)entries.Count)];
        List<byte> values = [];
        int valuesAt = at + 2 + (12 * entries.Count) + 4;
        foreach (Entry e in entries)
        {
            head.AddRange([.. Two(e.Tag), .. Two(e.Type), .. Four((uint)e.Count)]);
            if (e.Bytes.Length <= 4)
            {
                head.AddRange([.. e.Bytes, .. new byte[4 - e.Bytes.Length]]);
                continue;
            }

            head.AddRange(Four((uint)(valuesAt + values.Count)));
            values.AddRange([.. e.Bytes, .. new byte[e.Bytes.Length & 1]]);
        }

        return [.. head, 0, 0, 0, 0, .. values];
    }

    private static void Text(List<Entry> entries, ushort tag, string? text)
    {
        if (text is null)
            return;
        byte[] bytes = [.. Encoding.UTF8.GetBytes(text), 0];
        entries.Add(new Entry(tag, Ascii, bytes.Length, bytes));
    }

    private static byte[] Two(ushort value)
    {
        byte[] bytes = new byte[2];
        BinaryPrimitives.WriteUInt16BigEndian(bytes, value);
        return bytes;
    }

    private static byte[] Four(uint value)
    {
        byte[] bytes = new byte[4];
        BinaryPrimitives.WriteUInt32BigEndian(bytes, value);
        return bytes;
    }

    private sealed record Entry(ushort Tag, ushort Type, int Count, byte[] Bytes);
}
