using DeflectScan.Calibration;
using DeflectScan.Geometry;
using DeflectScan.Photos;
using DeflectScan.Tracing.Reading;

namespace DeflectScan.Tracing.Blank;

/// <summary>Bars, butt to tip, where the network on the whole photo proposes a blank, measured on the photo.</summary>
internal static class ProposedBars
{
    /// <summary>Distance of the first bar's knots, mm, and how much bends between them cost: it bends as blanks do, not as cells lie.</summary>
    private const double KnotMm = 80;
    private const double Stiffness = 3;

    /// <summary>A first bar's points are so far apart, mm.</summary>
    private const double StepMm = 12;

    /// <summary>A point farther than this from the smooth curve is none of the blank's, mm: sure ones lie within 3 mm. Points of no weight hold ends only.</summary>
    private const double BesideMm = 10;
    private const double LeastWeight = 1e-4;
    private const int Rounds = 4;

    /// <summary>No shorter way is a blank, mm.</summary>
    private const double ShortestMm = 300;

    /// <summary>Mean log-probability below which a way is none.</summary>
    private const double LeastLog = -1.5;

    /// <summary>
    /// No other way is looked at after one that network and body agree on so well: on 60 of our own scenes, none learnt from, ways with both ends right had -1.1 to -2,
    /// others -3.5 and less.
    /// </summary>
    private const double SureAgreement = -2.5;

    /// <summary>Another way is left aside where it is less likely than one in twenty of the one that is taken: a logarithm.</summary>
    private const double OtherOdds = -3;

    /// <summary>So many of the likeliest ways are looked at.</summary>
    private const int Most = 3;

    /// <summary>A place is as sure as the nearest point of the way; farther from all of them than this, mm, it is not, nor is a tip there the same.</summary>
    private const double NearMm = 20;

    /// <summary>Candidates measured along the network's likeliest ways, the best first.</summary>
    /// <param name="photo">Upright photo.</param>
    /// <param name="plane">The plane that the blank lies in.</param>
    /// <param name="guided">What measures along a way.</param>
    public static List<RodCandidate> Of(UprightPhoto photo, RodPlane plane, GuidedBar guided)
    {
        double mmPerPx = plane.MmPerPx(plane.ToPlane(new Vec2(photo.Info.WidthPx / 2.0, photo.Info.HeightPx / 2.0)));
        List<RodCandidate> candidates = [];
        List<BlankProposal> ways = [.. BlankReader.Read(photo.Bgr, mmPerPx).Where(w => w.MeanLogProbability > LeastLog)];
        foreach (BlankProposal way in ways.Take(Most))
        {
            Vec2[] points = [.. way.PointsPx.Select(plane.ToPlane)];
            if (Bar(points, way.Weights) is { } bar && guided.Build(bar, p => Sure(points, way.Weights, p), way.EndsLogProbability) is { } candidate)
                candidates.Add(candidate with { HasOtherTip = ways.Exists(w => w.Likeliness - way.Likeliness > OtherOdds && IsBeside(candidate.Bar, plane.ToPlane(w.PointsPx[^1]))) });
            if (candidates.Exists(c => c.Agreement > SureAgreement))
                break;
        }

        return [.. candidates.OrderByDescending(c => c.Agreement)];
    }

    private static bool IsBeside(TracedBar bar, Vec2 tip)
    {
        (double s, double offset) = bar.Curve.Nearest(tip);
        return Math.Abs(offset) > NearMm || s > bar.Length + NearMm;
    }

    private static double Sure(Vec2[] points, IReadOnlyList<double> weights, Vec2 place)
    {
        int nearest = 0;
        for (int i = 1; i < points.Length; i++)
        {
            if (points[i].DistanceTo(place) < points[nearest].DistanceTo(place))
                nearest = i;
        }

        return points[nearest].DistanceTo(place) < NearMm ? weights[nearest] : 0;
    }

    // A smooth curve through the points that are sure; over the others it bends on. What lies beside it counts less and less (Tukey's biweight).
    private static TracedBar? Bar(Vec2[] points, IReadOnlyList<double> sure)
    {
        double[] along = new double[points.Length];
        for (int i = 1; i < points.Length; i++)
            along[i] = along[i - 1] + points[i].DistanceTo(points[i - 1]);
        double length = along[^1];
        if (length < ShortestMm)
            return null;
        double[] x = [.. points.Select(p => p.X)];
        double[] y = [.. points.Select(p => p.Y)];
        double[] weights = [.. sure.Select(w => Math.Max(LeastWeight, w * w))];
        PenalisedSpline fitX, fitY;
        for (int round = 0; ; round++)
        {
            fitX = PenalisedSpline.Fit(along, x, weights, 0, length, KnotMm, 3, Stiffness);
            fitY = PenalisedSpline.Fit(along, y, weights, 0, length, KnotMm, 3, Stiffness);
            if (round == Rounds)
                break;
            for (int i = 0; i < points.Length; i++)
            {
                double u = points[i].DistanceTo(new Vec2(fitX.At(along[i]), fitY.At(along[i]))) / BesideMm;
                weights[i] = Math.Max(LeastWeight, sure[i] * sure[i] * (u < 1 ? (1 - (u * u)) * (1 - (u * u)) : 0));
            }
        }

        int count = Math.Max(8, (int)(length / StepMm));
        ArcCurve curve = ArcCurve.Through([.. Enumerable.Range(0, count + 1).Select(i => length * i / count).Select(s => new Vec2(fitX.At(s), fitY.At(s)))]);

        // A blank of common proportions to begin with (common practice, no source): 12 mm at the handle, 2 mm at the tip.
        return new TracedBar(curve, [.. curve.KnotStations.Select(s => 6 - (5 * s / curve.Length))]);
    }
}
