using DeflectScan.Calibration;
using DeflectScan.Geometry;
using DeflectScan.Photos;
using DeflectScan.Tracing.Reading;

namespace DeflectScan.Tracing.Blank;

/// <summary>First bars, butt to tip, where the network on the whole photo proposes a blank.</summary>
internal static class ProposedBars
{
    /// <summary>Distance of a first bar's knots, mm, and the bends that it keeps.</summary>
    private const double KnotMm = 24;
    private const double SmoothMm = 80;

    /// <summary>No shorter way is a blank, mm.</summary>
    private const double ShortestMm = 300;

    /// <summary>Mean log-probability below which a way is none.</summary>
    private const double LeastLog = -1.5;

    /// <summary>So many of the likeliest ways are looked at.</summary>
    private const int Most = 1;

    /// <summary>A bar is the proposed one where it runs within the first of so large a share of it, and ends within the last, mm.</summary>
    private const double NearMm = 8;
    private const double CoveredShare = 0.92;
    private const double EndsMm = 60;

    public static List<TracedBar> Of(UprightPhoto photo, RodPlane plane)
    {
        double mmPerPx = plane.MmPerPx(plane.ToPlane(new Vec2(photo.Info.WidthPx / 2.0, photo.Info.HeightPx / 2.0)));
        IReadOnlyList<BlankProposal> ways = BlankReader.Read(photo.Bgr, mmPerPx);
        List<TracedBar> bars = [];
        foreach (BlankProposal way in ways.Where(w => w.MeanLogProbability > LeastLog))
        {
            if (bars.Count < Most && Bar([.. way.PointsPx.Select(plane.ToPlane)]) is { } bar)
                bars.Add(bar);
        }

        return bars;
    }

    /// <summary>
    /// The candidates that run where the network sees the blank; where none does, one that starts from its proposal. All of them where that one cannot be
    /// followed on the photo.
    /// </summary>
    /// <param name="candidates">Bars that were found without it.</param>
    /// <param name="proposed">Its proposals, the likeliest first.</param>
    /// <param name="follow">Follows a first bar on the photo.</param>
    public static List<RodCandidate> Chosen(List<RodCandidate> candidates, IReadOnlyList<TracedBar> proposed, Func<TracedBar, List<RodCandidate>> follow)
    {
        List<RodCandidate> agree = candidates.FindAll(c => proposed.Any(p => Covers(c.Bar, p)));
        if (agree.Count > 0)
            return agree;

        // Once more from what was followed: a first bar's widths are but a guess, and edges are looked for where the widths say.
        List<RodCandidate> followed = [.. proposed.SelectMany(follow).SelectMany(c => follow(c.Bar)).Where(c => proposed.Any(p => Covers(c.Bar, p)))];
        return followed.Count > 0 ? followed : candidates;
    }

    // Most of the proposal lies on the bar, and the bar does not go on far beyond it.
    private static bool Covers(TracedBar bar, TracedBar proposal)
    {
        const int Places = 40;
        int on = 0;
        for (int i = 0; i <= Places; i++)
        {
            (double s, double offset) = bar.Curve.Nearest(proposal.Curve.Point(proposal.Length * i / Places));
            on += Math.Abs(offset) < NearMm && s > -EndsMm && s < bar.Length + EndsMm ? 1 : 0;
        }

        return on >= CoveredShare * Places && bar.Length < proposal.Length + (2 * EndsMm);
    }

    private static TracedBar? Bar(Vec2[] points)
    {
        List<Vec2> apart = [points[0]];
        foreach (Vec2 p in points.Skip(1))
        {
            if (p.DistanceTo(apart[^1]) > KnotMm)
                apart.Add(p);
        }

        if (apart.Count * KnotMm < ShortestMm)
            return null;
        if (points[^1].DistanceTo(apart[^1]) > 1)
            apart.Add(points[^1]);
        ArcCurve curve = ArcCurve.Through(apart);

        // A blank of common proportions to begin with (common practice, no source): 12 mm at the handle, 2 mm at the tip.
        return new TracedBar(curve, [.. curve.KnotStations.Select(s => 6 - (5 * s / curve.Length))]).Smoothed(SmoothMm);
    }
}
