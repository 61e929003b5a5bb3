using System.Numerics;
using System.Runtime.InteropServices;

namespace DeflectScan.Tracing.Line;

/// <summary>
/// Sums and products of whole columns, several values at a time. They load and store by reference, since code compiled ahead of time takes a call
/// for a vector made from a span.
/// </summary>
internal static class ColumnSums
{
    /// <summary>Adds one column to another of the same length.</summary>
    public static void Add(Span<float> sum, ReadOnlySpan<float> added)
    {
        added = added[..sum.Length];
        ref float into = ref MemoryMarshal.GetReference(sum);
        ref float from = ref MemoryMarshal.GetReference(added);
        int width = Vector<float>.Count;
        int l = 0;
        for (; l <= sum.Length - width; l += width)
            (Vector.LoadUnsafe(ref into, (nuint)l) + Vector.LoadUnsafe(ref from, (nuint)l)).StoreUnsafe(ref into, (nuint)l);
        for (; l < sum.Length; l++)
            sum[l] += added[l];
    }

    /// <summary>Adds a column times a factor.</summary>
    public static void AddScaled(Span<float> sum, ReadOnlySpan<float> added, float factor)
    {
        added = added[..sum.Length];
        ref float into = ref MemoryMarshal.GetReference(sum);
        ref float from = ref MemoryMarshal.GetReference(added);
        int width = Vector<float>.Count;
        Vector<float> factors = new(factor);
        int l = 0;
        for (; l <= sum.Length - width; l += width)
            (Vector.LoadUnsafe(ref into, (nuint)l) + (factors * Vector.LoadUnsafe(ref from, (nuint)l))).StoreUnsafe(ref into, (nuint)l);
        for (; l < sum.Length; l++)
            sum[l] += factor * added[l];
    }

    /// <summary>Multiplies a column by a factor.</summary>
    public static void Scale(Span<float> values, float factor)
    {
        ref float into = ref MemoryMarshal.GetReference(values);
        int width = Vector<float>.Count;
        Vector<float> factors = new(factor);
        int l = 0;
        for (; l <= values.Length - width; l += width)
            (factors * Vector.LoadUnsafe(ref into, (nuint)l)).StoreUnsafe(ref into, (nuint)l);
        for (; l < values.Length; l++)
            values[l] *= factor;
    }
}
