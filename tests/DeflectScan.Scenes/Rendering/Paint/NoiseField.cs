namespace DeflectScan.Scenes.Rendering.Paint;

/// <summary>A tile of smooth random texture, mean 0, about -1 to 1, that repeats without a seam.</summary>
public sealed class NoiseField
{
    private const int Size = 512;
    private readonly float[] _tile = new float[Size * Size];

    /// <param name="seed">Same seed: same texture.</param>
    /// <param name="octaves">Finer octaves, each half as strong, below the base period of 64 samples.</param>
    public NoiseField(int seed, int octaves)
    {
        float weight = 1;
        int period = 64;
        for (int octave = 0; octave < octaves && period >= 1; octave++)
        {
            Add(new Random(unchecked((seed * 13) + octave)), period, weight);
            weight *= 0.6f;
            period /= 2;
        }

        float mean = _tile.Average();
        float spread = (float)Math.Sqrt(_tile.Average(v => (v - mean) * (v - mean)));
        for (int i = 0; i < _tile.Length; i++)
            _tile[i] = Math.Clamp((_tile[i] - mean) / (2 * spread), -1.5f, 1.5f);
    }

    /// <summary>Bilinear value; one unit of x or y is one sample of the tile.</summary>
    public float At(double x, double y)
    {
        int ix = (int)Math.Floor(x);
        int iy = (int)Math.Floor(y);
        float u = (float)(x - ix);
        float v = (float)(y - iy);
        int x0 = ix & (Size - 1);
        int x1 = (ix + 1) & (Size - 1);
        int y0 = (iy & (Size - 1)) * Size;
        int y1 = ((iy + 1) & (Size - 1)) * Size;
        float a = _tile[y0 + x0] + ((_tile[y0 + x1] - _tile[y0 + x0]) * u);
        float b = _tile[y1 + x0] + ((_tile[y1 + x1] - _tile[y1 + x0]) * u);
        return a + ((b - a) * v);
    }

    private void Add(Random random, int period, float weight)
    {
        int n = Size / period;
        float[] knots = new float[n * n];
        for (int i = 0; i < knots.Length; i++)
            knots[i] = (float)((2 * random.NextDouble()) - 1) * weight;
        for (int y = 0; y < Size; y++)
        {
            int j = y / period;
            float v = Smooth(y % period / (float)period);
            for (int x = 0; x < Size; x++)
            {
                int i = x / period;
                float u = Smooth(x % period / (float)period);
                float a = Lerp(knots[(j * n) + i], knots[(j * n) + ((i + 1) % n)], u);
                float b = Lerp(knots[((j + 1) % n * n) + i], knots[((j + 1) % n * n) + ((i + 1) % n)], u);
                _tile[(y * Size) + x] += Lerp(a, b, v);
            }
        }
    }

    private static float Smooth(float t) => t * t * (3 - (2 * t));

    private static float Lerp(float a, float b, float t) => a + ((b - a) * t);
}
