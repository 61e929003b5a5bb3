namespace DeflectScan.Tracing.Line;

/// <summary>
/// Response of the band to a line about one pixel wide that runs along it: per channel the value against the mean of both flanks (thin),
/// and half the flanks' difference (slant), which tells an edge from a line.
/// </summary>
internal sealed class ThinResponse
{
    // Levels are half a pixel. Luma: Gaussian of 0.7 px, flanks 3 px away. Colour is stored at half resolution by JPEG: wider.
    private static readonly float[] LumaKernel = Gaussian(1.4);
    private static readonly float[] ColourKernel = Gaussian(2.6);

    private readonly float[][] _thin;
    private readonly float[][] _slant;

    private ThinResponse(BandStrip strip)
    {
        Strip = strip;
        int n = strip.Columns * strip.Levels;
        _thin = [new float[n], new float[n], new float[n]];
        _slant = [new float[n], new float[n], new float[n]];
    }

    public BandStrip Strip { get; }

    public ReadOnlySpan<float> Thin(int channel, int column) => _thin[channel].AsSpan(column * Strip.Levels, Strip.Levels);

    public ReadOnlySpan<float> Slant(int channel, int column) => _slant[channel].AsSpan(column * Strip.Levels, Strip.Levels);

    /// <summary>Mean of both flanks: the background of a line at this level.</summary>
    public float Background(int channel, int column, int level)
    {
        ReadOnlySpan<float> values = Strip.Column(channel, column);
        int flank = channel > 0 ? 8 : 6;
        float below = values[Math.Max(0, level - flank)] + values[Math.Max(0, level - flank - 1)];
        float above = values[Math.Min(values.Length - 1, level + flank)] + values[Math.Min(values.Length - 1, level + flank + 1)];
        return 0.25f * (below + above);
    }

    public Span<float> Writable(int channel, int column, bool slant) =>
        (slant ? _slant : _thin)[channel].AsSpan(column * Strip.Levels, Strip.Levels);

    public static ThinResponse Of(BandStrip strip)
    {
        ThinResponse response = new(strip);
        Parallel.For(0, strip.Columns, column =>
        {
            float[] smooth = new float[strip.Levels];
            for (int channel = 0; channel < BandStrip.Channels; channel++)
            {
                bool colour = channel > 0;
                Smooth(strip.Column(channel, column), smooth, colour ? ColourKernel : LumaKernel);
                int at = column * strip.Levels;
                int flank = colour ? 8 : 6;
                Span<float> thin = response._thin[channel].AsSpan(at, strip.Levels);
                Span<float> slant = response._slant[channel].AsSpan(at, strip.Levels);
                for (int l = flank; l < strip.Levels - flank; l++)
                {
                    thin[l] = smooth[l] - (0.5f * (smooth[l - flank] + smooth[l + flank]));
                    slant[l] = 0.5f * (smooth[l + flank] - smooth[l - flank]);
                }
            }
        });
        return response;
    }

    public ThinResponse Copy()
    {
        ThinResponse copy = new(Strip);
        for (int channel = 0; channel < BandStrip.Channels; channel++)
        {
            _thin[channel].CopyTo(copy._thin[channel], 0);
            _slant[channel].CopyTo(copy._slant[channel], 0);
        }

        return copy;
    }

    private static void Smooth(ReadOnlySpan<float> from, Span<float> to, float[] kernel)
    {
        int half = kernel.Length / 2;
        for (int l = 0; l < from.Length; l++)
        {
            float sum = 0;
            for (int k = -half; k <= half; k++)
                sum += kernel[k + half] * from[Math.Clamp(l + k, 0, from.Length - 1)];
            to[l] = sum;
        }
    }

    private static float[] Gaussian(double sigmaLevels)
    {
        int half = (int)Math.Ceiling(2.5 * sigmaLevels);
        double[] k = [.. Enumerable.Range(-half, (2 * half) + 1).Select(i => Math.Exp(-i * i / (2 * sigmaLevels * sigmaLevels)))];
        return [.. k.Select(v => (float)(v / k.Sum()))];
    }
}
