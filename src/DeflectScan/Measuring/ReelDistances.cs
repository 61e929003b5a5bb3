using System.Globalization;
using DeflectScan.Calibration;
using DeflectScan.Findings;
using DeflectScan.Geometry;
using DeflectScan.Measuring.Figures;
using DeflectScan.Tracing;
using DeflectScan.Tracing.Line;

namespace DeflectScan.Measuring;

/// <summary>
/// Every ring's distance from the reel's front. A person's tape or else mark is taken before what was read from the photo; where two of
/// them contradict each other, the measurement goes to review.
/// </summary>
/// <param name="Front">The front that is used.</param>
/// <param name="UncertaintyMm">Of each ring's distance from it, expanded (95 %), from the reel to the tip-top; null where no front is known.</param>
internal sealed record ReelDistances(ReelFrontReport Front, IReadOnlyList<double>? UncertaintyMm)
{
    /// <summary>Two figures this many standard uncertainties of their difference apart contradict each other (3 in 1 000 by chance).</summary>
    private const double Contradiction = 3;

    /// <summary>A tape from a ring to the reel is read as well as one between two rings.</summary>
    private static readonly double TapeSdMm = TapedDistance.UsualPlusMinusMm / Math.Sqrt(3);

    /// <summary>The distances of a trace.</summary>
    /// <param name="settled">Plane, trace and rings.</param>
    /// <param name="options">What a person said.</param>
    /// <param name="ledger">Where a contradiction is reported.</param>
    public static ReelDistances Of(SettledTrace settled, MeasureOptions options, FindingLedger ledger)
    {
        Known[] known = [.. Ways(settled, options)];
        if (known.Length == 0)
            return new ReelDistances(new ReelFrontReport(ReelFrontSource.NotSeen, null, null), null);
        foreach (Known other in known.Skip(1))
        {
            if (Contradict(settled, known[0], other) is { } contradiction)
                ledger.Add(contradiction);
        }

        double[] sd = FromReelSd(settled, known[0]);
        int tip = sd.Length - 1;
        return new ReelDistances(
            new ReelFrontReport(known[0].Source, known[0].StationMm, LayoutUncertainty.Coverage * sd[tip]), [.. sd.Select(u => LayoutUncertainty.Coverage * u)]);
    }

    // What is known of the front, the one that is used first.
    private static IEnumerable<Known> Ways(SettledTrace settled, MeasureOptions options)
    {
        ArcCurve axis = settled.Trace.Axis.Curve;
        if (options.FirstGuideFromReelMm is { } taped)
            yield return new Known(ReelFrontSource.Taped, Station(settled, 0) + taped, TapeSdMm);
        if (options.Marks.ReelFrontPx is { } mark)
        {
            Vec2 at = settled.Solved.Plane.ToPlane(mark);
            yield return new Known(ReelFrontSource.Marked, axis.Nearest(at).S, LineOptions.Default.MarkSdPx * settled.Solved.Plane.MmPerPx(at));
        }

        if (settled.Line.ReelFront is { } read)
            yield return new Known(ReelFrontSource.Read, axis.Nearest(read.PointMm).S, read.AlongSdMm);
    }

    /// <summary>
    /// Standard uncertainty of each ring's distance from a front: what tells the front, the ring's own place, and the calibration in between (the way along the
    /// axis in each of the plane's variants). A taped front hangs on the first ring.
    /// </summary>
    private static double[] FromReelSd(SettledTrace settled, Known front)
    {
        bool taped = front.Source == ReelFrontSource.Taped;
        double origin = taped ? Station(settled, 0) : front.StationMm;
        double[] variance = CalibrationVariance(settled, origin);
        int tip = variance.Length - 1;
        for (int i = 0; i < variance.Length; i++)
        {
            double first = taped && i > 0 ? RingVariance(settled, 0) : 0;
            double own = taped && i == 0 ? 0 : RingVariance(settled, i);
            variance[i] += (front.SdMm * front.SdMm) + first + own;
        }

        variance[tip] += LayoutUncertainty.TipEndSdMm * LayoutUncertainty.TipEndSdMm;
        return [.. variance.Select(Math.Sqrt)];
    }

    private static double[] CalibrationVariance(SettledTrace settled, double origin)
    {
        RodPlane plane = settled.Solved.Plane;
        int rings = settled.Line.Rings.Count;
        Vec2[][] ways = [.. Enumerable.Range(0, rings).Select(i => Way(settled.Trace.Axis.Curve, origin, Station(settled, i)))];
        Vec2[][] px = [.. ways.Select(w => w.Select(plane.ToPhoto).ToArray())];
        double[] variance = new double[rings];
        foreach (RodPlane variant in plane.Variants)
        {
            for (int i = 0; i < rings; i++)
            {
                double longer = Length([.. px[i].Select(variant.ToPlane)]) - Length(ways[i]);
                variance[i] += longer * longer;
            }
        }

        return variance;
    }

    // Chords of up to 100 mm: their length changes with the plane as the arc's does.
    private static Vec2[] Way(ArcCurve axis, double from, double to)
    {
        int steps = Math.Max(1, (int)Math.Ceiling(Math.Abs(from - to) / 100));
        return [.. Enumerable.Range(0, steps + 1).Select(k => axis.Point(from + ((to - from) * k / steps)))];
    }

    private static double Length(Vec2[] way) => way.Zip(way.Skip(1)).Sum(p => p.First.DistanceTo(p.Second));

    private static double RingVariance(SettledTrace settled, int ring) => settled.Line.Rings[ring].AlongSdMm * settled.Line.Rings[ring].AlongSdMm;

    // As the document has it: the tip-top at 0.
    private static double Station(SettledTrace settled, int ring) => ring == settled.Line.Rings.Count - 1 ? 0 : settled.Uncertainty.Figures.Values[ring];

    private static Finding? Contradict(SettledTrace settled, Known used, Known other)
    {
        double variance = (used.SdMm * used.SdMm) + (other.SdMm * other.SdMm);
        if (used.Source == ReelFrontSource.Taped)
            variance += RingVariance(settled, 0) + CalibrationVariance(settled, other.StationMm)[0];
        if (Math.Abs(used.StationMm - other.StationMm) <= Contradiction * Math.Sqrt(variance))
            return null;
        double first = Station(settled, 0);
        return Finding.Review(
            FindingCode.GuidesUncertain,
            string.Create(
                CultureInfo.InvariantCulture,
                $"The guide nearest the reel stands {used.StationMm - first:0.0} mm from the reel's front {Says(used)}, but {other.StationMm - first:0.0} mm {Says(other)}: check {Check(used)} and, on the overlay, that guide and the reel.")) with { Places = [FindingPlace.At(first)] };
    }

    private static string Says(Known known) => known.Source switch
    {
        ReelFrontSource.Taped => "by the tape",
        ReelFrontSource.Marked => "by the mark",
        _ => "as read from the photo",
    };

    private static string Check(Known known) => known.Source == ReelFrontSource.Taped ? "the taped distance from the reel's front" : "the mark of the reel's front";

    /// <summary>A front: its station from the tip, and the standard uncertainty of what tells it, mm.</summary>
    private sealed record Known(ReelFrontSource Source, double StationMm, double SdMm);
}
