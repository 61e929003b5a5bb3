using DeflectScan.Calibration;
using DeflectScan.Geometry;
using DeflectScan.Photos;

namespace DeflectScan.Tracing.Blank;

/// <summary>From a rough bar to a candidate followed from handle to tip and fitted on the photo.</summary>
internal sealed class CandidateBuilder(UprightPhoto photo, RodPlane plane, AxisOptions options)
{
    private const double SearchWindowMm = 5;

    public RodCandidate? Build(TracedBar start)
    {
        double mmPerPx = plane.MmPerPx(start.Curve.Point(start.Length / 2));
        AxisRefiner refiner = new(photo, plane, mmPerPx);
        BarFollower follower = new(photo, plane, mmPerPx, options.LongestGapMm);
        TracedBar? bar = refiner.FirstPass(start, SearchWindowMm, options.LongestGapMm);
        if (bar is null || bar.Length < 200)
            return null;
        bar = refiner.TrimmedPass(bar, Math.Max(2, 2 * mmPerPx), 80, options.LongestGapMm);
        if (bar is null || bar.Length < 200)
            return null;
        bar = follower.Follow(follower.Follow(bar).Reversed()).Reversed();
        bar = refiner.TrimmedPass(bar, Math.Max(1.5, 2 * mmPerPx), 80, options.LongestGapMm);
        if (bar is null || bar.Length < 200)
            return null;
        (TracedBar last, AxisFit fit, List<BarStation> readings) = refiner.Pass(bar, Math.Max(1, 1.5 * mmPerPx), 60);
        Sight[] sights = refiner.Sights(readings, fit, 0);
        return new RodCandidate(last, fit, bar, readings, sights, HandleFinder.Share(photo, plane, last, mmPerPx));
    }
}
