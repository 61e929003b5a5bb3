using System.Buffers.Binary;

namespace DeflectScan.Photos;

/// <summary>
/// What a JPEG's headers say about how its blocks are coded (ITU-T T.81, annexes B and F), gathered marker by marker, and the check that every
/// sequential scan really holds all of its blocks: a decoder fills what is missing with grey and says nothing.
/// </summary>
internal sealed class JpegCoding
{
    private readonly Dictionary<byte, Component> _components = [];
    private readonly JpegHuffmanTable?[] _dc = new JpegHuffmanTable?[4];
    private readonly JpegHuffmanTable?[] _ac = new JpegHuffmanTable?[4];
    private readonly List<JpegScan> _scans = [];
    private int _restartInterval;
    private (int Width, int Height, int MaxH, int MaxV) _frame;
    private bool _isSequential;

    private readonly record struct Component(int H, int V);

    /// <exception cref="BrokenFileException">A scan holds fewer blocks, or far more bytes, than the picture's size asks for.</exception>
    public void CheckScans(ReadOnlySpan<byte> file)
    {
        foreach (JpegScan scan in _scans)
            scan.Check(file);
    }

    public void Frame(byte marker, ReadOnlySpan<byte> body)
    {
        _isSequential = marker <= 0xC1;
        for (int i = 6; i + 3 <= body.Length; i += 3)
        {
            Component c = new(body[i + 1] >> 4, body[i + 1] & 15);
            if (c.H is < 1 or > 4 || c.V is < 1 or > 4 || !_components.TryAdd(body[i], c))
                throw BrokenFileException.Damaged("JPEG");
        }

        _frame = (
            BinaryPrimitives.ReadUInt16BigEndian(body[3..]),
            BinaryPrimitives.ReadUInt16BigEndian(body[1..]),
            _components.Values.Max(c => c.H),
            _components.Values.Max(c => c.V));
    }

    public void RestartInterval(ReadOnlySpan<byte> body) =>
        _restartInterval = body.Length == 2 ? BinaryPrimitives.ReadUInt16BigEndian(body) : throw BrokenFileException.Damaged("JPEG");

    public void HuffmanTables(ReadOnlySpan<byte> body)
    {
        while (!body.IsEmpty)
        {
            int id = body[0] & 15;
            if ((body[0] >> 4) > 1 || id > 3 || body.Length < 17)
                throw BrokenFileException.Damaged("JPEG");
            int symbols = 0;
            foreach (byte count in body.Slice(1, 16))
                symbols += count;
            if (symbols > 256 || body.Length < 17 + symbols)
                throw BrokenFileException.Damaged("JPEG");
            JpegHuffmanTable table = new(body.Slice(1, 16), body.Slice(17, symbols));
            (body[0] >> 4 == 0 ? _dc : _ac)[id] = table;
            body = body[(17 + symbols)..];
        }
    }

    /// <param name="body">The scan's header.</param>
    /// <param name="start">Where its coded bytes begin in the file.</param>
    /// <param name="end">Where they end.</param>
    public void Scan(ReadOnlySpan<byte> body, int start, int end)
    {
        if (!_isSequential)
            return; // A progressive picture's refining scans cannot be followed without its coefficients; the decoder's word counts there.
        int count = body.Length > 0 ? body[0] : 0;
        if (count is < 1 or > 4 || body.Length != 4 + (2 * count))
            throw BrokenFileException.Damaged("JPEG");
        List<JpegScanBlock> blocks = [];
        (int columns, int rows) = (0, 0);
        for (int i = 0; i < count; i++)
        {
            byte tables = body[2 + (2 * i)];
            if (!_components.TryGetValue(body[1 + (2 * i)], out Component c) || (tables >> 4) > 3 || (tables & 15) > 3
                || _dc[tables >> 4] is not { } dc || _ac[tables & 15] is not { } ac)
                throw BrokenFileException.Damaged("JPEG");
            int repeats = count == 1 ? 1 : c.H * c.V;
            blocks.AddRange(Enumerable.Repeat(new JpegScanBlock(dc, ac), repeats));
            (columns, rows) = count > 1
                ? (Ceiling(_frame.Width, 8 * _frame.MaxH), Ceiling(_frame.Height, 8 * _frame.MaxV))
                : (Ceiling(Ceiling(_frame.Width * c.H, _frame.MaxH), 8), Ceiling(Ceiling(_frame.Height * c.V, _frame.MaxV), 8));
        }

        _scans.Add(new JpegScan([.. blocks], (long)columns * rows, _restartInterval, start, end));
    }

    private static int Ceiling(int a, int b) => (a + b - 1) / b;
}
