using DeflectScan.Calibration;
using DeflectScan.Geometry;
using DeflectScan.Numerics;
using DeflectScan.Photos;

namespace DeflectScan.Tracing.Blank;

/// <summary>
/// Follows a bar on beyond its known end: carries its bend on, looks for the path of most contrast in a fan about it, and takes what
/// keeps the width. A handle (too wide), a cord (leaves at an angle) and the frame end it; a short stretch unseen is bridged.
/// </summary>
internal sealed class BarFollower(UprightPhoto photo, RodPlane plane, double mmPerPx, double blurPx, UnsharpMask? sharpening, double longestGapMm)
{
    private const double KnownMm = 60; // stretch of the known bar that is looked at again
    private const double FanSlope = 0.10; // how far, per mm of way, the bar may leave its carried-on bend
    private const double HandleRadii = 2.4;
    private const double HandleMm = 25; // so much of a thicker bar on end is a handle
    private const double StepMm = 110; // most that is added at once
    private const double NoiseLimit = 0.35; // background scatter as a share of the step
    private const double LeastShare = 0.1; // of the known bar's contrast
    private const double FollowShare = 0.3; // of a reading's miss that the next one is looked for by
    private const double SlopeShare = 0.03;
    private readonly double _stationMm = ProfileBand.RowsPerStation * mmPerPx;

    /// <summary>The bar with its last end carried on as far as it can be seen.</summary>
    public TracedBar Follow(TracedBar bar)
    {
        for (int step = 0; step < 12; step++)
        {
            TracedBar? longer = Step(bar);
            if (longer is null || longer.Length < bar.Length + (2 * _stationMm))
                return longer is not null && longer.Length > bar.Length ? longer : bar;
            bar = longer;
        }

        return bar;
    }

    private TracedBar? Step(TracedBar bar)
    {
        TracedBar far = bar.Extended(longestGapMm + 60, 150);
        double first = Math.Max(0, bar.Length - KnownMm);
        int known = (int)((bar.Length - first) / _stationMm);
        int count = (int)((far.Length - first) / _stationMm);
        double[] stations = [.. Enumerable.Range(0, count).Select(i => first + ((i + 0.5) * _stationMm))];
        double fan = 1 + (FanSlope * (far.Length - bar.Length));
        ProfileBand band = ProfileBand.Sample(photo.Bgr, plane, far, stations, fan + (HandleRadii * far.Radius(first)) + (8 * mmPerPx * Math.Max(1, blurPx / EdgeFinder.SharpPx)), mmPerPx, sharpening);
        int seen = 0;
        while (seen < count && band.Seen[seen])
            seen++;
        if (seen < known + 2)
            return null;
        EdgeFinder finder = new(band, blurPx);
        double typical = Typical(finder, far, stations, known);
        BarStation[] readings = Read(band, finder, far, stations, seen, known, typical, out Sight[] sights);
        int last = new BarRun(_stationMm, longestGapMm).LastGood(sights, known - 1);
        // Not farther than the carried-on bend and taper can be trusted, where there is more to come.
        int enough = known + (int)(StepMm / _stationMm);
        while (last > enough)
            last--;
        while (last >= known && sights[last] != Sight.Bar)
            last--;
        if (last < known)
            return null;
        return Fit(bar, far, readings.AsSpan(0, last + 1), sights);
    }

    // Station by station: where the bar is looked for follows from how the last ones lay beside the carried-on bend.
    private BarStation[] Read(
        ProfileBand band, EdgeFinder finder, TracedBar far, double[] stations, int seen, int known, double typical, out Sight[] sights)
    {
        double[] path = new double[stations.Length];
        StretchOutlines look = new(band, blurPx, path, [.. stations.Select(far.Radius)], Math.Min(seen, Math.Max(1, known)));
        List<BarStation> readings = [];
        List<Sight> seenAs = [];
        double offset = 0;
        double slope = 0;
        int missed = 0;
        int thick = 0;
        for (int i = 0; i < seen && missed * _stationMm < longestGapMm + KnownMm && thick * _stationMm < HandleMm; i++)
        {
            double radius = far.Radius(stations[i]);
            offset += slope * _stationMm;
            path[i] = i < known ? 0 : offset;
            BarStation r = finder.Describe(i, look.Read(i), path[i], radius);
            Sight sight = See(r, radius, LeastShare * typical);
            readings.Add(r);
            seenAs.Add(sight);
            missed = sight == Sight.Bar ? 0 : missed + 1;
            thick = i >= known && r.InThicker ? thick + 1 : 0;
            if (sight != Sight.Bar || i < known)
                continue;
            double miss = Math.Clamp(r.Centre - offset, -mmPerPx, mmPerPx);
            offset += FollowShare * miss;
            slope = Math.Clamp(slope + (SlopeShare * miss / _stationMm), -FanSlope, FanSlope);
        }

        sights = [.. seenAs];
        return [.. readings];
    }

    private Sight See(BarStation r, double radius, double leastScore)
    {
        if (!r.BothSeen)
            return r.AnySeen ? Sight.OneEdge : Sight.None;
        bool fits = Math.Abs((r.WidthMm / 2) - radius) < (0.25 * radius) + (0.4 * mmPerPx);
        return fits && r.Score >= leastScore && r.Noise < NoiseLimit ? Sight.Bar : Sight.None;
    }

    private static double Typical(EdgeFinder finder, TracedBar far, double[] stations, int known)
    {
        List<double> contrasts = [];
        for (int i = 0; i < known; i++)
        {
            finder.Look(i);
            contrasts.Add(finder.Contrast(0, far.Radius(stations[i])));
        }

        return OrderStatistics.Middle(contrasts, none: 0);
    }

    private TracedBar? Fit(TracedBar bar, TracedBar far, ReadOnlySpan<BarStation> readings, Sight[] sights)
    {
        List<BarStation> kept = [];
        for (int i = 0; i < readings.Length; i++)
        {
            if (sights[i] == Sight.Bar)
                kept.Add(readings[i]);
        }

        if (kept.Count < 6)
            return null;
        double from = kept[0].S;
        double to = kept[^1].S;
        double[] s = [.. kept.Select(r => r.S)];
        double[] centre = [.. kept.Select(r => r.Centre)];
        double[] weight = [.. kept.Select(_ => 1.0)];
        double[] half = [.. kept.Select(r => r.WidthMm / 2)];
        PenalisedSpline shift = PenalisedSpline.Fit(s, centre, weight, from, to, 60, 3, 3);
        PenalisedSpline taper = PenalisedSpline.Fit(s, half, weight, from, to, 200, 2, 20);
        double join = bar.Length - (KnownMm / 2);
        List<Vec2> points = [.. bar.Curve.Knots.Where((_, i) => bar.Curve.KnotStations[i] < join)];
        List<double> radii = [.. bar.Curve.KnotStations.Where(k => k < join).Select(bar.Radius)];
        double at = points.Count > 0 ? bar.Curve.KnotStations[points.Count - 1] + 8 : from;
        int count = Math.Max(1, (int)Math.Round((to - at) / 8));
        for (int k = 0; k <= count; k++)
        {
            double x = at + ((to - at) * k / count);
            points.Add(far.Curve.Point(x) + (far.Curve.Normal(x) * shift.At(x)));
            radii.Add(taper.At(x));
        }

        return new TracedBar(ArcCurve.Through(points), [.. radii]);
    }
}
