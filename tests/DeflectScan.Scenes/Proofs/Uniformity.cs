namespace DeflectScan.Scenes.Proofs;

/// <summary>Whether probabilities are spread evenly from 0 to 1: Kolmogorov and Smirnov's test with the series for large samples (from memory; Stephens' correction for small ones).</summary>
public static class Uniformity
{
    /// <summary>The probability of so large a departure by chance.</summary>
    public static double Probability(IEnumerable<double> values)
    {
        double[] v = [.. values.Order()];
        int n = v.Length;
        double d = v.Select((p, i) => Math.Max(p - ((double)i / n), ((double)(i + 1) / n) - p)).Max();
        double x = d * (Math.Sqrt(n) + 0.12 + (0.11 / Math.Sqrt(n)));
        return x < 0.3 ? 1 : Math.Clamp(2 * Enumerable.Range(1, 100).Sum(k => (k % 2 == 1 ? 1 : -1) * Math.Exp(-2.0 * k * k * x * x)), 0, 1);
    }
}
