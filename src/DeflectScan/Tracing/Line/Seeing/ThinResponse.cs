using System.Numerics;
using System.Runtime.InteropServices;

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

    /// <summary>Contrast and background of a column between two levels: of the contrasts to both flanks the lesser, as beside a line, and at an edge, one flank is like the middle.</summary>
    public void Read(int channel, int column, (int From, int To) levels, float[] contrast, float[] background)
    {
        ReadOnlySpan<float> values = Strip.Column(channel, column);
        int flank = channel > 0 ? ColourFlank : LumaFlank;
        ref float value = ref MemoryMarshal.GetReference(values);
        ref float thin = ref MemoryMarshal.GetReference(Thin(channel, column));
        ref float slant = ref MemoryMarshal.GetReference(Slant(channel, column));
        int width = Vector<float>.Count;
        Vector<float> quarter = new(0.25f);
        int l = levels.From;
        for (; l > flank && l + flank + 1 + width <= values.Length && l + width <= levels.To; l += width)
        {
            Lesser(Vector.LoadUnsafe(ref thin, (nuint)l), Vector.LoadUnsafe(ref slant, (nuint)l)).StoreUnsafe(ref contrast[0], (nuint)l);
            Vector<float> below = Vector.LoadUnsafe(ref value, (nuint)(l - flank)) + Vector.LoadUnsafe(ref value, (nuint)(l - flank - 1));
            Vector<float> above = Vector.LoadUnsafe(ref value, (nuint)(l + flank)) + Vector.LoadUnsafe(ref value, (nuint)(l + flank + 1));
            (quarter * (below + above)).StoreUnsafe(ref background[0], (nuint)l);
        }

        for (; l < levels.To; l++)
            (contrast[l], background[l]) = (Contrast(channel, column, l), Background(channel, column, l));
    }

    /// <summary>The lesser of a place's contrasts to both flanks.</summary>
    public float Contrast(int channel, int column, int level)
    {
        float thin = Thin(channel, column)[level];
        return MathF.CopySign(MathF.Max(0, MathF.Abs(thin) - MathF.Abs(Slant(channel, column)[level])), thin);
    }

    private static Vector<float> Lesser(Vector<float> thin, Vector<float> slant) =>
        Vector.CopySign(Vector.Max(Vector<float>.Zero, Vector.Abs(thin) - Vector.Abs(slant)), thin);

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

    private static void Respond(float[] smooth, int flank, Span<float> thin, Span<float> slant)
    {
        int width = Vector<float>.Count;
        Vector<float> half = new(0.5f);
        ref float from = ref MemoryMarshal.GetArrayDataReference(smooth);
        int l = flank;
        for (; l <= smooth.Length - flank - width; l += width)
        {
            Vector<float> below = Vector.LoadUnsafe(ref from, (nuint)(l - flank));
            Vector<float> above = Vector.LoadUnsafe(ref from, (nuint)(l + flank));
            (Vector.LoadUnsafe(ref from, (nuint)l) - (half * (below + above))).StoreUnsafe(ref MemoryMarshal.GetReference(thin), (nuint)l);
            (half * (above - below)).StoreUnsafe(ref MemoryMarshal.GetReference(slant), (nuint)l);
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
