namespace DeflectScan.Numerics;

/// <summary>
/// Values by their place when sorted. The middle one is a value that was seen, at place count / 2: of an even number the upper of the two in the
/// middle, where MathNet's Statistics.Median takes their mean, which is none of the values and would change figures.
/// </summary>
internal static class OrderStatistics
{
    /// <summary>The middle value.</summary>
    /// <param name="values">Any order; left as they are.</param>
    /// <param name="none">What is given of no values, where there may be none.</param>
    /// <exception cref="ArgumentException">There are no values, and nothing is said of that.</exception>
    public static double Middle(IEnumerable<double> values, double? none = null)
    {
        double[] sorted = [.. values];
        return MiddleInPlace(sorted, none);
    }

    /// <summary>The same of values that may be moved about.</summary>
    public static double MiddleInPlace(Span<double> values, double? none = null)
    {
        if (values.Length == 0)
            return none ?? throw new ArgumentException("Of no values there is no middle one.", nameof(values));
        return At(values, values.Length / 2);
    }

    /// <summary>
    /// The median as statisticians have it, the mean of the two in the middle of an even number; the values are moved about, at least one. By our own
    /// selection, as MathNet's leaves it open where values that are no numbers come to stand: here they come first.
    /// </summary>
    public static double MedianInPlace(Span<double> values)
    {
        int half = values.Length / 2;
        double upper = At(values, half);
        return values.Length % 2 == 1 ? upper : (At(values[..half], half - 1) + upper) / 2;
    }

    /// <summary>The value that stands at place 3 count / 4.</summary>
    /// <param name="values">Any order; left as they are.</param>
    /// <param name="none">What is given of no values.</param>
    public static double UpperQuartile(IEnumerable<double> values, double none)
    {
        double[] sorted = [.. values.Order()];
        return sorted.Length == 0 ? none : sorted[sorted.Length * 3 / 4];
    }

    // What stands at a place when sorted; all before it are no larger then. What is no number comes first.
    private static double At(Span<double> values, int place)
    {
        int none = 0;
        for (int i = 0; i < values.Length; i++)
        {
            if (double.IsNaN(values[i]))
                (values[none], values[i]) = (values[i], values[none++]);
        }

        return place < none ? double.NaN : Quickselect.At(values[none..], place - none);
    }
}
