using System.Numerics;

namespace DeflectScan.Tracing.Line;

/// <summary>Sums and products of whole columns, several values at a time.</summary>
internal static class Spans
{
    /// <summary>Adds one column to another of the same length.</summary>
    public static void Add(Span<float> sum, ReadOnlySpan<float> added)
    {
        int width = Vector<float>.Count;
        int l = 0;
        for (; l <= sum.Length - width; l += width)
            (new Vector<float>(sum[l..]) + new Vector<float>(added[l..])).CopyTo(sum[l..]);
        for (; l < sum.Length; l++)
            sum[l] += added[l];
    }

    /// <summary>Adds a column times a factor.</summary>
    public static void AddScaled(Span<float> sum, ReadOnlySpan<float> added, float factor)
    {
        int width = Vector<float>.Count;
        Vector<float> factors = new(factor);
        int l = 0;
        for (; l <= sum.Length - width; l += width)
            (new Vector<float>(sum[l..]) + (factors * new Vector<float>(added[l..]))).CopyTo(sum[l..]);
        for (; l < sum.Length; l++)
            sum[l] += factor * added[l];
    }

    /// <summary>Adds a column whose level l + shift goes to level l; what falls outside is left out.</summary>
    public static void AddShifted(Span<float> sum, ReadOnlySpan<float> added, int shift)
    {
        int from = Math.Max(0, -shift);
        int count = Math.Min(sum.Length, added.Length - shift) - from;
        if (count > 0)
            Add(sum.Slice(from, count), added.Slice(from + shift, count));
    }

    /// <summary>Multiplies a column by a factor.</summary>
    public static void Scale(Span<float> values, float factor)
    {
        int width = Vector<float>.Count;
        Vector<float> factors = new(factor);
        int l = 0;
        for (; l <= values.Length - width; l += width)
            (factors * new Vector<float>(values[l..])).CopyTo(values[l..]);
        for (; l < values.Length; l++)
            values[l] *= factor;
    }
}
