using System.Buffers.Binary;
using System.IO.Hashing;

namespace DeflectScan.Scenes.Attacks;

/// <summary>Makes malformed files from whole ones; the same seed and number give the same bytes on any machine.</summary>
public sealed class Mutator(IReadOnlyDictionary<string, byte[]> seeds)
{
    private static readonly byte[] Telling = [0x00, 0x01, 0x7F, 0x80, 0xFE, 0xFF, 0xD8, 0xD9, 0xDA, 0xC0, 0xC4];
    private static readonly uint[] TellingLengths = [0, 1, 2, 0x7F, 0xFFFF, 0x10000, 0x7FFFFFFF, 0x80000000, 0xFFFFFFFE, 0xFFFFFFFF];
    private readonly KeyValuePair<string, byte[]>[] _seeds = [.. seeds.OrderBy(s => s.Key, StringComparer.Ordinal)];

    /// <summary>Mutant number <paramref name="number"/> of the series <paramref name="seed"/>, with a name that says where it came from.</summary>
    public (string Name, byte[] Bytes) Make(int seed, int number)
    {
        Draw draw = new(((ulong)(uint)seed << 32) | (uint)number);
        (string name, byte[] whole) = _seeds[draw.Below(_seeds.Length)];
        List<byte> bytes = [.. whole];
        int changes = 1 + draw.Below(draw.Below(3) == 0 ? 24 : 3);
        for (int i = 0; i < changes && bytes.Count > 0; i++)
            Change(bytes, draw);
        byte[] mutant = [.. bytes];
        if (name.StartsWith("png", StringComparison.Ordinal) && draw.Below(4) != 0)
            MendCheckSums(mutant);
        return ($"{name} #{number}", mutant);
    }

    private void Change(List<byte> bytes, Draw draw)
    {
        int at = draw.Below(2) == 0 ? draw.Below(Math.Min(bytes.Count, 200)) : draw.Below(bytes.Count);
        switch (draw.Below(9))
        {
            case 0:
                bytes[at] ^= (byte)(1 << draw.Below(8));
                break;
            case 1:
                bytes[at] = Telling[draw.Below(Telling.Length)];
                break;
            case 2:
                bytes[at] = (byte)draw.Below(256);
                break;
            case 3:
                Overwrite(bytes, at, TellingLengths[draw.Below(TellingLengths.Length)], draw);
                break;
            case 4:
                bytes.RemoveRange(at, bytes.Count - at);
                break;
            case 5:
                bytes.RemoveRange(at, Math.Min(bytes.Count - at, 1 + draw.Below(64)));
                break;
            case 6:
                bytes.InsertRange(at, bytes.GetRange(at, Math.Min(bytes.Count - at, 1 + draw.Below(64))));
                break;
            case 7:
                byte[] other = _seeds[draw.Below(_seeds.Length)].Value;
                int from = draw.Below(other.Length);
                bytes.InsertRange(at, other[from..Math.Min(other.Length, from + 1 + draw.Below(200))]);
                break;
            default:
                bytes.InsertRange(at, Enumerable.Repeat((byte)draw.Below(256), 1 + draw.Below(40)));
                break;
        }
    }

    private static void Overwrite(List<byte> bytes, int at, uint value, Draw draw)
    {
        Span<byte> text = stackalloc byte[4];
        if (draw.Below(2) == 0)
            BinaryPrimitives.WriteUInt32BigEndian(text, value);
        else
            BinaryPrimitives.WriteUInt32LittleEndian(text, value);
        int width = draw.Below(2) == 0 ? 2 : 4;
        for (int i = 0; i < width && at + i < bytes.Count; i++)
            bytes[at + i] = text[4 - width + i];
    }

    /// <summary>Gives each PNG chunk the check sum that its mutated bytes ask for, so that the decoder behind the check is reached.</summary>
    private static void MendCheckSums(byte[] png)
    {
        for (long at = 8; at + 12 <= png.Length;)
        {
            long length = BinaryPrimitives.ReadUInt32BigEndian(png.AsSpan((int)at));
            if (at + 12 + length > png.Length)
                return;
            uint sum = Crc32.HashToUInt32(png.AsSpan((int)at + 4, (int)length + 4));
            BinaryPrimitives.WriteUInt32BigEndian(png.AsSpan((int)(at + 8 + length)), sum);
            at += 12 + length;
        }
    }

    /// <summary>SplitMix64 (Steele, Lea and Flood 2014): random numbers that do not change with the framework's version.</summary>
    private sealed class Draw(ulong state)
    {
        private ulong _state = state;

        public int Below(int bound)
        {
            _state += 0x9E3779B97F4A7C15;
            ulong z = _state;
            z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9;
            z = (z ^ (z >> 27)) * 0x94D049BB133111EB;
            return (int)((z ^ (z >> 31)) % (ulong)bound);
        }
    }
}
