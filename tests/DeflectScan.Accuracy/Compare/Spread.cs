namespace DeflectScan.Accuracy.Compare;

/// <summary>Median, 95 % and largest of some sizes; NaN where there are none, so that nothing measured never passes for a small error.</summary>
public sealed record Spread(int Count, double Median, double P95, double Max)
{
    public static Spread Of(IEnumerable<double> values)
    {
        double[] sizes = [.. values.Select(Math.Abs).Order()];
        return sizes.Length == 0 ? new Spread(0, double.NaN, double.NaN, double.NaN) : new Spread(sizes.Length, Quantile(sizes, 0.5), Quantile(sizes, 0.95), sizes[^1]);
    }

    // Linear between the order statistics (Hyndman and Fan 1996, type 7; from memory).
    private static double Quantile(double[] sorted, double q)
    {
        double at = q * (sorted.Length - 1);
        int i = Math.Min((int)at, sorted.Length - 1);
        int j = Math.Min(i + 1, sorted.Length - 1);
        return sorted[i] + ((at - i) * (sorted[j] - sorted[i]));
    }
}
