using System.Numerics;

namespace DeflectScan.Tracing.Line;

/// <summary>One channel of one block, columns added in pairs, summed along slanted level runs.</summary>
internal sealed class BlockSum(int pairs, int levels)
{
    private readonly float[] _thinPairs = new float[pairs * levels];
    private readonly float[] _slantPairs = new float[pairs * levels];
    private readonly float[] _thin = new float[levels];
    private readonly float[] _slant = new float[levels];

    /// <summary>1 / standard deviation of the sum at each level.</summary>
    public float[] InverseSd { get; } = new float[levels];

    public void Load(ThinResponse response, int channel, int firstColumn)
    {
        for (int p = 0; p < pairs; p++)
        {
            int column = firstColumn + (2 * p);
            response.Thin(channel, column).CopyTo(_thinPairs.AsSpan(p * levels, levels));
            response.Slant(channel, column).CopyTo(_slantPairs.AsSpan(p * levels, levels));
            AddShifted(_thinPairs.AsSpan(p * levels, levels), response.Thin(channel, column + 1), 0);
            AddShifted(_slantPairs.AsSpan(p * levels, levels), response.Slant(channel, column + 1), 0);
        }
    }

    public void Load(LikelihoodMap map, int firstColumn)
    {
        for (int p = 0; p < pairs; p++)
        {
            Span<float> pair = _thinPairs.AsSpan(p * levels, levels);
            map.Column(firstColumn + (2 * p)).CopyTo(pair);
            AddShifted(pair, map.Column(firstColumn + (2 * p) + 1), 0);
        }
    }

    public void AddTo(Span<float> sum, int rise)
    {
        for (int p = 0; p < pairs; p++)
            AddShifted(sum, _thinPairs.AsSpan(p * levels, levels), (int)Math.Round(rise * (p + 0.5) / pairs));
    }

    /// <summary>
    /// Raises z, by starting level, to this sum's signal-to-noise where that is larger. An edge has as much slant as thinness: the slant
    /// above its own noise is taken off.
    /// </summary>
    public void RaiseTo(Span<float> z, int rise)
    {
        Array.Clear(_thin);
        Array.Clear(_slant);
        for (int p = 0; p < pairs; p++)
        {
            int shift = (int)Math.Round(rise * (p + 0.5) / pairs);
            AddShifted(_thin, _thinPairs.AsSpan(p * levels, levels), shift);
            AddShifted(_slant, _slantPairs.AsSpan(p * levels, levels), shift);
        }

        for (int l = 0; l < levels; l++)
        {
            float thin = MathF.Abs(_thin[l]) * InverseSd[l];
            float slant = MathF.Max(0, (MathF.Abs(_slant[l]) * InverseSd[l]) - 1.2f);
            z[l] = MathF.Max(z[l], MathF.Min(thin - slant, 8));
        }
    }

    private static void AddShifted(Span<float> sum, ReadOnlySpan<float> column, int shift)
    {
        int from = Math.Max(0, -shift);
        int to = Math.Min(sum.Length, column.Length - shift);
        Span<float> target = sum.Slice(from, Math.Max(0, to - from));
        ReadOnlySpan<float> source = column.Slice(from + shift, target.Length);
        int width = Vector<float>.Count;
        int l = 0;
        for (; l <= target.Length - width; l += width)
            (new Vector<float>(target[l..]) + new Vector<float>(source[l..])).CopyTo(target[l..]);
        for (; l < target.Length; l++)
            target[l] += source[l];
    }
}
