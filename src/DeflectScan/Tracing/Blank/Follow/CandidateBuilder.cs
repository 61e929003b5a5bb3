using DeflectScan.Calibration;
using DeflectScan.Geometry;
using DeflectScan.Photos;

namespace DeflectScan.Tracing.Blank;

/// <summary>From a rough bar to a candidate followed from handle to tip and fitted on the photo.</summary>
internal sealed class CandidateBuilder(UprightPhoto photo, RodPlane plane, AxisOptions options)
{
    private const double SearchWindowMm = 5;
    private const double ShortestMm = 200;
    private const double SmoothMm = 80;

    // A thin tip bends within some centimetres: coarser knots take its edges for outliers, and its end goes straight on.
    private const double FineKnotMm = 25;

    // Inside a bar that was seen on both sides of it, even a long stretch in front of a busy picture is bridged.
    private const double WholeGapMm = 400;

    public RodCandidate? Build(TracedBar start) => Build(start, mayTurn: true);

    // What is its thick end, the photo itself has to show: the small picture may have shown but a thread of gloss.
    private RodCandidate? Build(TracedBar start, bool mayTurn)
    {
        double mmPerPx = plane.MmPerPx(start.Curve.Point(start.Length / 2));
        AxisRefiner first = new(photo, plane, mmPerPx, EdgeFinder.SharpPx, options.Sharpening);
        TracedBar? bar = first.FirstPass(start, SearchWindowMm, WholeGapMm, out double blurPx);
        blurPx = Math.Min(blurPx, options.PrintBlurPx ?? double.MaxValue);
        AxisRefiner refiner = new(photo, plane, mmPerPx, blurPx, options.Sharpening);
        BarFollower follower = new(photo, plane, mmPerPx, blurPx, options.Sharpening, options.LongestGapMm);
        if (bar is null || bar.Length < ShortestMm)
            return null;
        if (mayTurn && bar.Radius(bar.Length / 4) < bar.Radius(bar.Length * 3 / 4))
            return Build(start.Reversed(), mayTurn: false);
        bar = refiner.TrimmedPass(bar, Math.Max(2, 2 * mmPerPx), 80, WholeGapMm);
        if (bar is null || bar.Length < ShortestMm)
            return null;
        bar = follower.Follow(follower.Follow(bar).Reversed()).Reversed();
        bar = refiner.TrimmedPass(bar.Smoothed(SmoothMm), Math.Max(1.5, 2 * mmPerPx), 80, WholeGapMm);
        if (bar is null || bar.Length < ShortestMm)
            return null;
        (TracedBar last, AxisFit fit, List<BarStation> readings) = refiner.Pass(bar.Smoothed(SmoothMm), Math.Max(1, 1.5 * mmPerPx), FineKnotMm);
        Sight[] sights = refiner.Sights(readings, fit, 0);
        return new RodCandidate(last, fit, readings, sights, blurPx, HandleFinder.Share(photo, plane, last, mmPerPx, blurPx, options.Sharpening));
    }
}
