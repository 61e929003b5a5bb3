using System.Numerics;
using DeflectScan.Numerics;

namespace DeflectScan.Tracing.Line;

/// <summary>
/// The contrast that the line shows on a background, per channel: a line that covers the share a of a pixel changes a background b
/// by a (colour - b). Learnt from the places where the line is plain; it then tells how the line must look where it is not.
/// </summary>
internal sealed class LineColour
{
    // Share of a pixel that a line of 0.2 to 0.4 mm covers at its middle after blur, at 0.5 mm a pixel: common, not measured; only a weak pull.
    private const double UsualShare = 0.3;

    private readonly double[] _colourTimesShare = new double[BandStrip.Channels];
    private readonly double[] _share = new double[BandStrip.Channels];

    public double Contrast(int channel, double background) => _colourTimesShare[channel] - (_share[channel] * background);

    /// <summary>The same of several backgrounds: to the last bit, so in double precision.</summary>
    public Vector<float> Contrast(int channel, Vector<float> background)
    {
        Vector.Widen(background, out Vector<double> lower, out Vector<double> upper);
        (Vector<double> own, double share) = (new(_colourTimesShare[channel]), _share[channel]);
        return Vector.Narrow(own - (share * lower), own - (share * upper));
    }

    /// <summary>What the line itself adds to a pixel, its own light.</summary>
    public double Own(int channel) => _colourTimesShare[channel];

    /// <summary>Fits the model to contrasts and backgrounds seen along a line, a value for every channel; null where there are too few.</summary>
    public static LineColour? Learn(List<(double[] Contrast, double[] Background)> seen) => seen.Count < 4 ? null : Fitted(seen);

    private static LineColour Fitted(List<(double[] Contrast, double[] Background)> seen)
    {
        LineColour colour = new();
        for (int channel = 0; channel < BandStrip.Channels; channel++)
            colour.Fit(channel, [.. seen.Select(p => (p.Contrast[channel], p.Background[channel]))]);
        return colour;
    }

    /// <summary>contrast = c - a background by reweighted least squares, a drawn weakly to the usual share.</summary>
    private void Fit(int channel, IReadOnlyList<(double Contrast, double Background)> seen)
    {
        double[] weight = [.. seen.Select(_ => 1.0)];
        double share = UsualShare;
        double colour = 0;
        for (int pass = 0; pass < 8; pass++)
        {
            double sum = weight.Sum();
            double meanB = seen.Select((s, i) => weight[i] * s.Background).Sum() / sum;
            double meanC = seen.Select((s, i) => weight[i] * s.Contrast).Sum() / sum;
            double covariance = seen.Select((s, i) => weight[i] * (s.Background - meanB) * (s.Contrast - meanC)).Sum();
            double variance = seen.Select((s, i) => weight[i] * (s.Background - meanB) * (s.Background - meanB)).Sum();
            const double pull = 4 * 25 * 25;
            share = Math.Clamp((-covariance + (pull * UsualShare)) / (variance + pull), 0.03, 0.9);
            colour = meanC + (share * meanB);
            double[] miss = [.. seen.Select(s => Math.Abs(s.Contrast - colour + (share * s.Background)))];
            double scale = Math.Max(1, 1.5 * OrderStatistics.Middle(miss));
            for (int i = 0; i < weight.Length; i++)
                weight[i] = 1 / (1 + (miss[i] * miss[i] / (4 * scale * scale)));
        }

        _share[channel] = share;
        _colourTimesShare[channel] = colour;
    }
}
