using System.Numerics;

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

    /// <summary>Distance of the flanks from the middle, in levels.</summary>
    public const int LumaFlank = 6;
    public const int ColourFlank = 8;

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
        int flank = channel > 0 ? ColourFlank : LumaFlank;
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
            float[] padded = new float[strip.Levels + ColourKernel.Length];
            for (int channel = 0; channel < BandStrip.Channels; channel++)
            {
                bool colour = channel > 0;
                Smooth(strip.Column(channel, column), smooth, padded, colour ? ColourKernel : LumaKernel);
                int at = column * strip.Levels;
                int flank = colour ? ColourFlank : LumaFlank;
                Respond(smooth, flank, response._thin[channel].AsSpan(at, strip.Levels), response._slant[channel].AsSpan(at, strip.Levels));
            }
        });
        return response;
    }

    /// <summary>A response of the same band with nothing in it yet.</summary>
    public ThinResponse Empty() => new(Strip);

    private static void Respond(float[] smooth, int flank, Span<float> thin, Span<float> slant)
    {
        int width = Vector<float>.Count;
        Vector<float> half = new(0.5f);
        int l = flank;
        for (; l <= smooth.Length - flank - width; l += width)
        {
            Vector<float> below = new(smooth.AsSpan(l - flank));
            Vector<float> above = new(smooth.AsSpan(l + flank));
            (new Vector<float>(smooth.AsSpan(l)) - (half * (below + above))).CopyTo(thin[l..]);
            (half * (above - below)).CopyTo(slant[l..]);
        }

        for (; l < smooth.Length - flank; l++)
        {
            thin[l] = smooth[l] - (0.5f * (smooth[l - flank] + smooth[l + flank]));
            slant[l] = 0.5f * (smooth[l + flank] - smooth[l - flank]);
        }
    }

    private static void Smooth(ReadOnlySpan<float> from, Span<float> to, float[] padded, float[] kernel)
    {
        int half = kernel.Length / 2;
        padded.AsSpan(0, half).Fill(from[0]);
        from.CopyTo(padded.AsSpan(half));
        padded.AsSpan(half + from.Length, half).Fill(from[^1]);
        to.Clear();
        for (int k = 0; k < kernel.Length; k++)
            ColumnSums.AddScaled(to, padded.AsSpan(k, from.Length), kernel[k]);
    }

    private static float[] Gaussian(double sigmaLevels)
    {
        int half = (int)Math.Ceiling(2.5 * sigmaLevels);
        double[] k = [.. Enumerable.Range(-half, (2 * half) + 1).Select(i => Math.Exp(-i * i / (2 * sigmaLevels * sigmaLevels)))];
        return [.. k.Select(v => (float)(v / k.Sum()))];
    }
}
