using System.Numerics;

namespace DeflectScan.Tracing.Line;

/// <summary>One channel of one block, summed along slanted level runs.</summary>
internal sealed class BlockSum(int columns, int levels)
{
    private readonly float[] _thinColumns = new float[columns * levels];
    private readonly float[] _slantColumns = new float[columns * levels];
    private readonly float[] _thin = new float[levels];
    private readonly float[] _slant = new float[levels];

    /// <summary>1 / standard deviation of the sum at each level.</summary>
    public float[] InverseSd { get; } = new float[levels];

    public void Load(ThinResponse response, int channel, int firstColumn)
    {
        for (int c = 0; c < columns; c++)
        {
            response.Thin(channel, firstColumn + c).CopyTo(_thinColumns.AsSpan(c * levels, levels));
            response.Slant(channel, firstColumn + c).CopyTo(_slantColumns.AsSpan(c * levels, levels));
        }
    }

    public void Load(LikelihoodMap map, int firstColumn)
    {
        for (int c = 0; c < columns; c++)
            map.Column(firstColumn + c).CopyTo(_thinColumns.AsSpan(c * levels, levels));
    }

    public void AddTo(Span<float> sum, int rise)
    {
        for (int c = 0; c < columns; c++)
            Spans.AddShifted(sum, _thinColumns.AsSpan(c * levels, levels), (int)Math.Round(rise * (c + 0.5) / columns));
    }

    /// <summary>
    /// Raises z, by starting level, to this sum's signal-to-noise where that is larger. An edge has as much slant as thinness: the slant
    /// above its own noise is taken off.
    /// </summary>
    public void RaiseTo(Span<float> z, int rise)
    {
        Array.Clear(_thin);
        Array.Clear(_slant);
        for (int c = 0; c < columns; c++)
        {
            int shift = (int)Math.Round(rise * (c + 0.5) / columns);
            Spans.AddShifted(_thin, _thinColumns.AsSpan(c * levels, levels), shift);
            Spans.AddShifted(_slant, _slantColumns.AsSpan(c * levels, levels), shift);
        }

        int width = Vector<float>.Count;
        int l = 0;
        Vector<float> free = new(1.2f);
        Vector<float> most = new(8f);
        for (; l <= levels - width; l += width)
        {
            Vector<float> inverse = new(InverseSd.AsSpan(l));
            Vector<float> thin = Vector.Abs(new Vector<float>(_thin.AsSpan(l))) * inverse;
            Vector<float> slant = Vector.Max(Vector<float>.Zero, (Vector.Abs(new Vector<float>(_slant.AsSpan(l))) * inverse) - free);
            Vector.Max(new Vector<float>(z[l..]), Vector.Min(thin - slant, most)).CopyTo(z[l..]);
        }

        for (; l < levels; l++)
        {
            float thin = MathF.Abs(_thin[l]) * InverseSd[l];
            float slant = MathF.Max(0, (MathF.Abs(_slant[l]) * InverseSd[l]) - 1.2f);
            z[l] = MathF.Max(z[l], MathF.Min(thin - slant, 8));
        }
    }
}
