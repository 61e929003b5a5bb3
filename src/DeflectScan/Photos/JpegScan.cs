using System.Buffers.Binary;

namespace DeflectScan.Photos;

/// <summary>
/// A Huffman table spread out over all 16-bit beginnings: for each, how many bits the code and the value behind it take, and the symbol.
/// </summary>
internal sealed class JpegHuffmanTable
{
    /// <summary>Most codes are shorter than this: their entries lie together where the processor has them at hand.</summary>
    private const int ShortBits = 10;

    private readonly ushort[] _entries = new ushort[1 << 16];
    private readonly ushort[] _short = new ushort[1 << ShortBits];

    /// <param name="counts">Number of codes of 1 to 16 bits (ITU-T T.81, B.2.4.2).</param>
    /// <param name="symbols">The codes' symbols in order.</param>
    public JpegHuffmanTable(ReadOnlySpan<byte> counts, ReadOnlySpan<byte> symbols)
    {
        (int code, int next) = (0, 0);
        for (int length = 1; length <= 16; length++, code <<= 1)
        {
            for (int i = 0; i < counts[length - 1]; i++, code++, next++)
            {
                if (code >= 1 << length)
                    throw BrokenFileException.Damaged("JPEG");
                int bits = length + (symbols[next] & 15);
                ushort entry = (ushort)((bits << 8) | symbols[next]);
                _entries.AsSpan(code << (16 - length), 1 << (16 - length)).Fill(entry);
                if (length <= ShortBits)
                    _short.AsSpan(code << (ShortBits - length), 1 << (ShortBits - length)).Fill(entry);
            }
        }
    }

    /// <summary>High byte: bits of code and value, 0 where no code begins so; low byte: the symbol.</summary>
    public int Entry(int sixteenBits)
    {
        int entry = _short[sixteenBits >> (16 - ShortBits)];
        return entry > 0 ? entry : _entries[sixteenBits];
    }
}

/// <summary>The tables of one block of a scan's unit.</summary>
internal readonly record struct JpegScanBlock(JpegHuffmanTable Dc, JpegHuffmanTable Ac);

/// <summary>One sequential scan: its units (minimum coded units) are read through without being decoded.</summary>
/// <param name="Blocks">The blocks of a unit, in order.</param>
/// <param name="Units">How many units the picture's size asks for.</param>
/// <param name="RestartInterval">Units between two restart markers; 0: none.</param>
/// <param name="Start">First coded byte in the file.</param>
/// <param name="End">One past the last.</param>
internal sealed record JpegScan(JpegScanBlock[] Blocks, long Units, int RestartInterval, int Start, int End)
{
    /// <summary>Bytes left over after the last unit that are still no sign of damage.</summary>
    private const int Padding = 64;

    /// <exception cref="BrokenFileException">The coded bytes end before the last unit, hold no code, or go on after it.</exception>
    public void Check(ReadOnlySpan<byte> file)
    {
        BitRun bits = new(file[..End], Start);
        for (long unit = 0; unit < Units; unit++)
        {
            if (RestartInterval > 0 && unit > 0 && unit % RestartInterval == 0 && !bits.Restart())
                throw BrokenFileException.Damaged("JPEG");
            foreach (JpegScanBlock block in Blocks)
                ReadBlock(ref bits, block);
        }

        if (bits.BytesLeft > Padding)
            throw BrokenFileException.Damaged("JPEG");
    }

    /// <summary>One difference of the mean, then pairs of zero run and value up to 63 coefficients or the end-of-block symbol (F.2.2).</summary>
    private static void ReadBlock(ref BitRun bits, JpegScanBlock block)
    {
        bits.Take(block.Dc);
        for (int k = 1; k < 64;)
        {
            int symbol = bits.Take(block.Ac);
            int run = symbol >> 4;
            if ((symbol & 15) == 0)
            {
                if (run != 15)
                    return;
                k += 16;
                continue;
            }

            k += run + 1;
            if (k > 64)
                throw BrokenFileException.Damaged("JPEG");
        }
    }

    private ref struct BitRun(ReadOnlySpan<byte> bytes, int at)
    {
        private const ulong Ones = 0x0101010101010101;
        private const ulong HighBits = 0x8080808080808080;

        private readonly ReadOnlySpan<byte> _bytes = bytes;
        private ulong _held;
        private int _count;
        private int _at = at;

        public readonly int BytesLeft => _bytes.Length - _at + (_count / 8);

        public int Take(JpegHuffmanTable table)
        {
            if (_count < 32)
                Fill();
            int entry = table.Entry((int)(_held >> 48));
            int bits = entry >> 8;
            if (bits == 0 || bits > _count)
                throw BrokenFileException.Damaged("JPEG");
            _held <<= bits;
            _count -= bits;
            return entry & 0xFF;
        }

        /// <summary>Drops the rest of the byte and steps over the restart marker that must follow.</summary>
        public bool Restart()
        {
            if (_count >= 8)
                return false;
            (_held, _count) = (0, 0);
            if (_at + 1 >= _bytes.Length || _bytes[_at] != 0xFF || _bytes[_at + 1] is < 0xD0 or > 0xD7)
                return false;
            _at += 2;
            return true;
        }

        private void Fill()
        {
            // Eight bytes at once, unless one of them is FF: a marker, or FF itself with the 0 that follows it.
            if (_at + sizeof(ulong) <= _bytes.Length)
            {
                ulong next = BinaryPrimitives.ReadUInt64BigEndian(_bytes[_at..]);
                if (((~next - Ones) & next & HighBits) == 0)
                {
                    int whole = (64 - _count) / 8;
                    _held |= next >> _count;
                    _held &= ulong.MaxValue << (64 - _count - (8 * whole));
                    _at += whole;
                    _count += 8 * whole;
                    return;
                }
            }

            while (_count <= 56 && _at < _bytes.Length)
            {
                byte b = _bytes[_at];
                if (b == 0xFF)
                {
                    if (_at + 1 >= _bytes.Length || _bytes[_at + 1] != 0)
                        return;
                    _at++;
                }

                _at++;
                _held |= (ulong)b << (56 - _count);
                _count += 8;
            }
        }
    }
}
