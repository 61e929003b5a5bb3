namespace DeflectScan.Numerics;

/// <summary>
/// Values by their place when sorted. The middle one is a value that was seen, at place count / 2: of an even number the upper of the two in the
/// middle, where MathNet's Statistics.Median takes their mean, which is none of the values and would change figures.
/// </summary>
internal static class OrderStatistics
{
    /// <summary>The middle value.</summary>
    /// <param name="values">Any order; left as they are.</param>
    /// <param name="none">What is given of no values.</param>
    public static double Middle(IEnumerable<double> values, double none = double.NaN)
    {
        double[] sorted = [.. values];
        return MiddleInPlace(sorted, none);
    }

    /// <summary>The same of values that may be moved about.</summary>
    public static double MiddleInPlace(Span<double> values, double none = double.NaN)
    {
        if (values.Length == 0)
            return none;
        values.Sort();
        return values[values.Length / 2];
    }
}
