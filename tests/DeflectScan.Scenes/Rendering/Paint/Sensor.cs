using System.Numerics;

namespace DeflectScan.Scenes.Rendering.Paint;

/// <summary>From linear light to 8 bits as a phone gives them: lens blur, falling-off corners, shot and read noise, sRGB curve, sharpening.</summary>
public sealed class Sensor
{
    private readonly SceneOptions _o;
    private readonly float[] _kernel;
    private readonly float[] _gauss = new float[65536];
    private readonly float[] _curve = new float[16385];
    private Vector3[] _across = [];
    private Vector3[] _encoded = [];

    public Sensor(SceneOptions o)
    {
        _o = o;
        int radius = Math.Max(1, (int)Math.Ceiling(3 * o.BlurPx));
        _kernel = [.. Enumerable.Range(-radius, (2 * radius) + 1).Select(i => (float)Math.Exp(-i * i / (2 * o.BlurPx * o.BlurPx)))];
        float sum = _kernel.Sum();
        for (int i = 0; i < _kernel.Length; i++)
            _kernel[i] /= sum;
        Random r = new(unchecked(((o.NoiseSeed ?? o.Seed) * 5051) + 1));
        for (int i = 0; i < _gauss.Length; i++)
            _gauss[i] = (float)(Math.Sqrt(-2 * Math.Log(1 - r.NextDouble())) * Math.Cos(2 * Math.PI * r.NextDouble()));

        // IEC 61966-2-1 (from memory).
        for (int i = 0; i < _curve.Length; i++)
        {
            double v = i / (double)(_curve.Length - 1);
            _curve[i] = (float)(255 * (v <= 0.0031308 ? 12.92 * v : (1.055 * Math.Pow(v, 1 / 2.4)) - 0.055));
        }
    }

    /// <summary>Rows that must be painted above and below the ones that are wanted.</summary>
    public int Margin => (_kernel.Length / 2) + 1;

    /// <summary>Develops the rows of a canvas but its margins into the picture.</summary>
    public void Develop(Canvas canvas, byte[] bgr)
    {
        int width = canvas.Width;
        int rows = canvas.Rows;
        int radius = _kernel.Length / 2;
        if (_across.Length < width * rows)
            (_across, _encoded) = (new Vector3[width * rows], new Vector3[width * rows]);
        for (int y = 0; y < rows; y++)
            Across(canvas.Pixels.AsSpan(y * width, width), _across.AsSpan(y * width, width));
        for (int y = radius; y < rows - radius; y++)
            Encode(canvas, y, radius);
        for (int y = Margin; y < rows - Margin; y++)
            Sharpen(bgr, y, canvas.Top + y, width);
    }

    private void Across(ReadOnlySpan<Vector3> from, Span<Vector3> to)
    {
        int radius = _kernel.Length / 2;
        int width = from.Length;
        for (int x = 0; x < width; x++)
        {
            Vector3 sum = default;
            if (x >= radius && x < width - radius)
            {
                for (int k = 0; k < _kernel.Length; k++)
                    sum += from[x - radius + k] * _kernel[k];
            }
            else
            {
                for (int k = 0; k < _kernel.Length; k++)
                    sum += from[Math.Clamp(x - radius + k, 0, width - 1)] * _kernel[k];
            }

            to[x] = sum;
        }
    }

    private void Encode(Canvas canvas, int y, int radius)
    {
        int width = canvas.Width;
        double cx = (width - 1) / 2.0;
        double cy = (canvas.Camera.HeightPx - 1) / 2.0;
        double corner = (cx * cx) + (cy * cy);
        int row = canvas.Top + y;
        float read = (float)(_o.ReadNoise * _o.ReadNoise);
        for (int x = 0; x < width; x++)
        {
            Vector3 sum = default;
            for (int k = 0; k < _kernel.Length; k++)
                sum += _across[((y - radius + k) * width) + x] * _kernel[k];
            double r2 = (((x - cx) * (x - cx)) + ((row - cy) * (row - cy))) / corner;
            sum *= (float)(_o.Exposure * (1 - (0.16 * r2)));
            ulong bits = Mix(((ulong)(uint)(_o.NoiseSeed ?? _o.Seed) << 40) ^ (((ulong)(row + 64) * (ulong)width) + (ulong)x));
            Vector3 noise = new(_gauss[bits & 0xffff], _gauss[(bits >> 16) & 0xffff], _gauss[(bits >> 32) & 0xffff]);
            sum += noise * Vector3.SquareRoot((sum * (float)_o.ShotNoise) + new Vector3(read));
            Vector3 at = Vector3.Clamp(sum, Vector3.Zero, Vector3.One) * (_curve.Length - 1);
            _encoded[(y * width) + x] = new Vector3(_curve[(int)at.X], _curve[(int)at.Y], _curve[(int)at.Z]);
        }
    }

    private void Sharpen(byte[] bgr, int y, int row, int width)
    {
        if (row < 0 || (long)(row + 1) * width * 3 > bgr.Length)
            return;
        Span<byte> to = bgr.AsSpan(row * width * 3, width * 3);
        float amount = (float)_o.Sharpen;
        for (int x = 0; x < width; x++)
        {
            int left = Math.Max(0, x - 1);
            int right = Math.Min(width - 1, x + 1);
            Vector3 soft = (Column(left, y) + (Column(x, y) * 2) + Column(right, y)) / 16;
            Vector3 v = _encoded[(y * width) + x];
            v += (v - soft) * amount;
            v = Vector3.Clamp(v + new Vector3(0.5f), Vector3.Zero, new Vector3(255));
            to[3 * x] = (byte)v.Z;
            to[(3 * x) + 1] = (byte)v.Y;
            to[(3 * x) + 2] = (byte)v.X;
        }

        Vector3 Column(int x, int at) => _encoded[((at - 1) * width) + x] + (_encoded[(at * width) + x] * 2) + _encoded[((at + 1) * width) + x];
    }

    // SplitMix64 (Steele, Lea, Flood 2014): a counter turned into random bits.
    private static ulong Mix(ulong z)
    {
        z += 0x9E3779B97F4A7C15;
        z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9;
        z = (z ^ (z >> 27)) * 0x94D049BB133111EB;
        return z ^ (z >> 31);
    }
}
