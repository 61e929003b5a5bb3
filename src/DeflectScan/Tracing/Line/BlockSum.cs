using System.Numerics;

namespace DeflectScan.Tracing.Line;

/// <summary>One channel of one block, summed along slanted level runs.</summary>
internal sealed class BlockSum(int columns, int levels)
{
    /// <summary>Most levels by which a run may rise from a column to the next.</summary>
    private const int Steepest = 2;
    private const int Slopes = (2 * Steepest) + 1;

    // Two columns in one, by pair and slope: every run that takes both columns at that slope uses the same sum.
    private readonly float[] _thinPairs = new float[columns / 2 * Slopes * levels];
    private readonly float[] _slantPairs = new float[columns / 2 * Slopes * levels];
    private readonly float[] _thin = new float[levels];
    private readonly float[] _slant = new float[levels];

    /// <summary>1 / standard deviation of the sum at each level.</summary>
    public float[] InverseSd { get; } = new float[levels];

    public void Load(ThinResponse response, int channel, int firstColumn)
    {
        for (int p = 0; p < columns / 2; p++)
        {
            int column = firstColumn + (2 * p);
            for (int slope = -Steepest; slope <= Steepest; slope++)
            {
                Join(Pair(_thinPairs, p, slope), response.Thin(channel, column), response.Thin(channel, column + 1), slope);
                Join(Pair(_slantPairs, p, slope), response.Slant(channel, column), response.Slant(channel, column + 1), slope);
            }
        }
    }

    public void Load(LikelihoodMap map, int firstColumn)
    {
        for (int p = 0; p < columns / 2; p++)
        {
            int column = firstColumn + (2 * p);
            for (int slope = -Steepest; slope <= Steepest; slope++)
                Join(Pair(_thinPairs, p, slope), map.Column(column), map.Column(column + 1), slope);
        }
    }

    public void AddTo(Span<float> sum, int rise) => AddTo(sum, _thinPairs, rise);

    /// <summary>
    /// Raises z, by starting level, to this sum's signal-to-noise where that is larger. An edge has as much slant as thinness: the slant
    /// above its own noise is taken off.
    /// </summary>
    public void RaiseTo(Span<float> z, int rise)
    {
        Array.Clear(_thin);
        Array.Clear(_slant);
        AddTo(_thin, _thinPairs, rise);
        AddTo(_slant, _slantPairs, rise);
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

    private void AddTo(Span<float> sum, float[] pairs, int rise)
    {
        for (int p = 0; p < columns / 2; p++)
        {
            int first = ShiftAt(2 * p, rise);
            Spans.AddShifted(sum, Pair(pairs, p, ShiftAt((2 * p) + 1, rise) - first), first);
        }
    }

    private int ShiftAt(int column, int rise) => (int)Math.Round(rise * (column + 0.5) / columns);

    private Span<float> Pair(float[] pairs, int pair, int slope) => pairs.AsSpan(((pair * Slopes) + slope + Steepest) * levels, levels);

    private static void Join(Span<float> into, ReadOnlySpan<float> first, ReadOnlySpan<float> second, int slope)
    {
        first.CopyTo(into);
        Spans.AddShifted(into, second, slope);
    }
}
