using System.Numerics;
using System.Runtime.CompilerServices;

namespace DeflectScan.Numerics;

/// <summary>The few sums over rows that take the time, several numbers at once; the order of additions is fixed.</summary>
internal static class Vectors
{
    /// <summary>target += factor × source.</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public static void Add(Span<double> target, double factor, ReadOnlySpan<double> source)
    {
        int width = Vector<double>.Count;
        Vector<double> f = new(factor);
        int i = 0;
        for (; i <= target.Length - width; i += width)
        {
            Vector<double> sum = new Vector<double>(target[i..]) + (f * new Vector<double>(source[i..]));
            sum.CopyTo(target[i..]);
        }

        for (; i < target.Length; i++)
            target[i] += factor * source[i];
    }

    /// <summary>target = a + factor × b.</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public static void Combine(Span<double> target, ReadOnlySpan<double> a, double factor, ReadOnlySpan<double> b)
    {
        int width = Vector<double>.Count;
        Vector<double> f = new(factor);
        int i = 0;
        for (; i <= target.Length - width; i += width)
        {
            Vector<double> sum = new Vector<double>(a[i..]) + (f * new Vector<double>(b[i..]));
            sum.CopyTo(target[i..]);
        }

        for (; i < target.Length; i++)
            target[i] = a[i] + (factor * b[i]);
    }

    /// <summary>target = factor × source.</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public static void Scale(Span<double> target, double factor, ReadOnlySpan<double> source)
    {
        int width = Vector<double>.Count;
        Vector<double> f = new(factor);
        int i = 0;
        for (; i <= target.Length - width; i += width)
            (f * new Vector<double>(source[i..])).CopyTo(target[i..]);
        for (; i < target.Length; i++)
            target[i] = factor * source[i];
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public static double Dot(ReadOnlySpan<double> a, ReadOnlySpan<double> b)
    {
        int width = Vector<double>.Count;
        Vector<double> sums = Vector<double>.Zero;
        int i = 0;
        for (; i <= a.Length - width; i += width)
            sums += new Vector<double>(a[i..]) * new Vector<double>(b[i..]);
        double sum = Vector.Sum(sums);
        for (; i < a.Length; i++)
            sum += a[i] * b[i];
        return sum;
    }
}
