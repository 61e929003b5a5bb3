using DeflectScan.Calibration;
using DeflectScan.Geometry;
using OpenCvSharp;

namespace DeflectScan.Tracing.Line;

/// <summary>Where the line's last straight segment ends.</summary>
/// <param name="AlongMm">Distance from the segment's other end.</param>
/// <param name="SdMm">Standard uncertainty.</param>
internal readonly record struct SegmentEnd(double AlongMm, double SdMm);

/// <summary>
/// The last segment is seen up to the tip-top's ring and not beyond: the place where it stops, as a change point. Its posterior is the
/// exponential of the summed log-likelihood ratios "line" against "none" up to each place (Chernoff and Zacks 1964, from memory).
/// </summary>
internal static class LineEnd
{
    /// <summary>Length before the search that fixes on which level of the strip the line runs, mm.</summary>
    private const double LeadMm = 50;

    /// <summary>Half the strip's width: flanks of the widest filter and some more, levels.</summary>
    private const int HalfLevels = 24;

    /// <summary>How far the line may run beside the straight way, levels of half a px.</summary>
    private const int MostOffset = 3;

    /// <summary>What the change point does not show: where on the ring the line leaves, and what hides its last mm; from rendered photographs.</summary>
    private const double ModelSdMm = 3.4;

    /// <summary>Ring, frame and blur hide the line's last mm, so it seems to end this much early; mean over the same photographs.</summary>
    private const double HiddenMm = 1.5;

    /// <summary>Above this the end is not known well enough to go without a person's look, standard uncertainty in mm.</summary>
    private const double MostSdMm = 4.5;

    /// <summary>The line ends near the blank's end, or one of the two was lost.</summary>
    private const double MostFromTipMm = 15;

    /// <summary>How far to each side the response to a thin line looks, px.</summary>
    private const double FlankPx = 3;

    /// <summary>So far beyond the end of what was traced the tip-top's tube may reach (common practice, no source), mm.</summary>
    private const double TubeMm = 12;

    /// <summary>Neighbouring columns share the photo's blur: two of them tell about as much as one.</summary>
    private const double Likeness = 2;

    /// <summary>The end, or null where it is not seen well enough or lies far from the blank's end.</summary>
    public static SegmentEnd? Find(Mat photoBgr, RodPlane plane, BlankAxis blank, LineColour colour, Vec2 lastRing, Vec2 nearTip, double reachMm, double stepMm)
    {
        Vec2 forward = (nearTip - lastRing).Normalized();
        double tip = lastRing.DistanceTo(nearTip);
        double from = Math.Max(LineFit.CornerSkipMm, tip - reachMm - LeadMm);
        double to = tip + reachMm;
        BandStrip strip = StraightBand.Sample(photoBgr, plane, lastRing + (forward * from), forward, to - from, HalfLevels * stepMm / 2, stepMm);
        LikelihoodMap map = HangLikelihood.Compute(ThinResponse.Of(strip), colour);
        int first = Math.Max(1, strip.Columns - (int)(2 * reachMm / stepMm));
        int level = HalfLevels;
        double most = double.MinValue;
        for (int l = HalfLevels - MostOffset; l <= HalfLevels + MostOffset; l++)
        {
            double sum = 0;
            for (int c = 0; c < first; c++)
                sum += map.Column(c)[l];
            if (sum > most)
                (most, level) = (sum, l);
        }

        double[] log = new double[strip.Columns - first];
        double at = 0;
        for (int k = 0; k < log.Length; k++)
        {
            ReadOnlySpan<float> column = map.Column(first + k);
            if (!IsHidden(blank, lastRing + (forward * (from + strip.Station(first + k))), stepMm))
                at += Math.Max(column[level], Math.Max(column[level - 1], column[level + 1])) / Likeness;
            log[k] = at;
        }

        double top = log.Max();
        double weights = 0;
        double mean = 0;
        double square = 0;
        for (int k = 0; k < log.Length; k++)
        {
            double w = Math.Exp(log[k] - top);
            double x = strip.Station(first + k);
            weights += w;
            mean += w * x;
            square += w * x * x;
        }

        mean /= weights;
        double sd = Math.Sqrt((ModelSdMm * ModelSdMm) + Math.Max(0, (square / weights) - (mean * mean)));
        return sd > MostSdMm || Math.Abs(from + mean - tip) > MostFromTipMm ? null : new SegmentEnd(from + mean + HiddenMm, sd);
    }

    /// <summary>
    /// Whether a line there would be too near the blank, or the tip-top's tube beyond its end, to be told from it: what stands beside the line
    /// is then the blank's edge, so that neither its being seen nor its not being seen says anything.
    /// </summary>
    private static bool IsHidden(BlankAxis blank, Vec2 at, double pxMm)
    {
        (double s, double offset) = blank.Curve.Nearest(at, 0);
        if (s > 0)
            return Math.Abs(offset) < blank.RadiusMm(s) + (FlankPx * pxMm);
        Vec2 end = blank.Curve.Point(0);
        Vec2 on = -blank.Curve.Tangent(0);
        return on.Dot(at - end) < TubeMm && Math.Abs(on.Cross(at - end)) < blank.RadiusMm(0) + (FlankPx * pxMm);
    }
}
