using DeflectScan.Numerics;

namespace DeflectScan.Tracing.Blank;

/// <summary>
/// A bar's half width and middle from many profiles at once: over a long stretch its two outlines stay where they are while what lies
/// behind it comes and goes. The outermost lasting edge on each side is taken, so that gloss and shade on the bar do not count.
/// </summary>
internal static class StackedEdges
{
    private const double WindowMm = 140;
    private const double ClearPeak = 1.6; // of the mean over all places
    private const double LastingShare = 0.35; // of the strongest lasting edge on that side

    // Gloss along a blank can make it look half as wide as it is, and off its middle, at first; afterwards it is nearly right.
    private static readonly double[] Farthest = [2.8, 1.6];

    /// <summary>Offset of the middle and half width at every station, mm.</summary>
    /// <param name="band">Profiles.</param>
    /// <param name="finder">Reader of those profiles.</param>
    /// <param name="path">Supposed middle at every station, mm.</param>
    /// <param name="radiusMm">Supposed half width at every station, mm: right to a factor of about two.</param>
    public static (double[] Centre, double[] Radius) Find(ProfileBand band, EdgeFinder finder, double[] path, double[] radiusMm)
    {
        // Whether a line runs beside the bar shows best while the search still reaches beyond it.
        (bool Above, bool Below)? beside = null;
        foreach (double farthest in Farthest)
        {
            OutlineSteps above = new(band, finder, path, radiusMm, 1, farthest, beside?.Above);
            OutlineSteps below = new(band, finder, path, radiusMm, -1, farthest, beside?.Below);
            beside = (above.Beside, below.Beside);
            (path, radiusMm) = Improved(band, path, radiusMm, above, below);
        }

        return (path, radiusMm);
    }

    /// <summary>
    /// The outlines of one stretch as a whole, in supposed half widths from the middle; null where no lasting edge stands out on a side.
    /// </summary>
    public static (double Left, double Right)? Whole(ProfileBand band, EdgeFinder finder, double radiusMm, double farthest)
    {
        double[] path = new double[band.Stations.Count];
        double[] radius = new double[path.Length];
        Array.Fill(radius, radiusMm);
        (double left, double leftClear) = Lasting(new OutlineSteps(band, finder, path, radius, 1, farthest), 0, path.Length);
        (double right, double rightClear) = Lasting(new OutlineSteps(band, finder, path, radius, -1, farthest), 0, path.Length);
        return leftClear > ClearPeak && rightClear > ClearPeak ? (left, right) : null;
    }

    private static (double[] Centre, double[] Radius) Improved(ProfileBand band, double[] path, double[] radiusMm, OutlineSteps above, OutlineSteps below)
    {
        double spacing = (band.Stations[^1] - band.Stations[0]) / (band.Stations.Count - 1);
        int window = Math.Max(8, (int)(WindowMm / spacing));
        List<double> s = [];
        List<double> shift = [];
        List<double> ratio = [];
        for (int first = 0; first + (window / 2) < path.Length; first += window / 2)
        {
            int last = Math.Min(path.Length, first + window);
            double left = Lasting(above, first, last).At;
            double right = Lasting(below, first, last).At;
            s.Add(band.Stations[(first + last - 1) / 2]);
            shift.Add((left - right) / 2);
            ratio.Add((left + right) / 2);
        }

        if (s.Count == 0)
            return (path, radiusMm); // shorter than half a window
        double[] x = [.. band.Stations];
        double[] shiftAt = Smooth([.. s], [.. shift], x, 0.15);
        double[] ratioAt = Smooth([.. s], [.. ratio], x, 0.1);
        return (
            [.. path.Select((p, i) => p + (shiftAt[i] * radiusMm[i]))],
            [.. radiusMm.Select((r, i) => Math.Max(0.3 * r, ratioAt[i] * r))]);
    }

    // The outermost lasting edge, and how far the strongest one rises above the mean of all places.
    private static (double At, double Clear) Lasting(OutlineSteps steps, int first, int last)
    {
        double[] sum = steps.Votes(first, last);
        double strongest = sum.Max();
        for (int k = sum.Length - 2; k > 0; k--)
        {
            if (sum[k] >= LastingShare * strongest && sum[k] >= sum[k + 1] && sum[k] >= sum[k - 1])
                return (OutlineSteps.Out(k), strongest / Math.Max(1e-9, sum.Average()));
        }

        return (1, 0);
    }

    // A robust smooth curve through the windows' values, stiff beyond single windows.
    private static double[] Smooth(double[] s, double[] values, double[] at, double scale)
    {
        double middle = OrderStatistics.Middle(values);
        if (s.Length < 4)
            return [.. at.Select(_ => middle)];
        double[] weights = [.. values.Select(v => 1 / (1 + Square((v - middle) / (3 * scale))))];
        PenalisedSpline? fit = null;
        for (int round = 0; round < 8; round++)
        {
            fit = PenalisedSpline.Fit(s, values, weights, at[0], at[^1], 250, 2, 3);
            for (int i = 0; i < s.Length; i++)
                weights[i] = 1 / (1 + Square((values[i] - fit.At(s[i])) / scale));
        }

        return [.. at.Select(fit!.At)];
    }

    private static double Square(double v) => v * v;
}
