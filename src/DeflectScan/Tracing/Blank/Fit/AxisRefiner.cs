using DeflectScan.Calibration;
using DeflectScan.Photos;

namespace DeflectScan.Tracing.Blank;

/// <summary>Follows a roughly known bar on the photo itself: reads its edges along the way and fits axis and taper, again and again.</summary>
/// <param name="photo">Upright photo.</param>
/// <param name="plane">The plane that the bar lies in.</param>
/// <param name="mmPerPx">Scale along the bar.</param>
/// <param name="blurPx">Blur of its edges, sigma in px.</param>
/// <param name="sharpening">What the camera did to edges; null where that is not known.</param>
internal sealed class AxisRefiner(UprightPhoto photo, RodPlane plane, double mmPerPx, double blurPx, UnsharpMask? sharpening)
{
    private const double NoiseLimit = 0.35; // background scatter, as a share of the step, of a clear edge

    private const double WideRadii = 2.8; // reach of the first pass's profiles in supposed half widths
    private const double LeastReachMm = 5; // more of them, whatever the window: how blurred edges are shows over some millimetres
    private const double HandleRadii = 2.4; // where a handle has to be told
    private const double OwnRadii = 1.35;
    private const int FewestReadings = 20;

    public double StationMm { get; } = ProfileBand.RowsPerStation * mmPerPx;

    /// <summary>
    /// The first pass on a bar known to some millimetres: the path of most contrast near it, then its edges; whatever has not the bar's
    /// usual contrast at the ends (a handle, a cord, a shadow that goes on) is left off.
    /// </summary>
    public TracedBar? FirstPass(TracedBar bar, double windowMm, double longestGapMm, out double measuredBlurPx) =>
        Moved(bar, windowMm, null, out measuredBlurPx) is { } first ? Trimmed(bar, first.Readings, first.Fit, 100, 0.3 * first.Typical, longestGapMm) : null;

    /// <summary>The first pass on a bar whose ends and body are known: nothing is left off.</summary>
    public TracedBar? WholePass(TracedBar bar, double windowMm, SeenBody body, out double measuredBlurPx) =>
        Moved(bar, windowMm, body, out measuredBlurPx) is { } first ? first.Fit.Apply(bar, first.Fit.From - (StationMm / 2), first.Fit.To + (StationMm / 2)) : null;

    private (AxisFit Fit, List<BarStation> Readings, double Typical)? Moved(TracedBar bar, double windowMm, SeenBody? body, out double measuredBlurPx)
    {
        (ProfileBand band, double[] stations) = Band(bar, Math.Max(windowMm, LeastReachMm), WideRadii);
        EdgeFinder finder = new(band, blurPx);
        double[] own = new double[stations.Length];
        for (int i = 0; i < stations.Length; i++)
        {
            finder.Look(i);
            own[i] = finder.Contrast(0, bar.Radius(stations[i]));
        }

        Array.Sort(own);
        double typical = own[own.Length * 3 / 4];
        double[] path = BarPath.Find(band, finder, i => bar.Radius(stations[i]), _ => windowMm, typical, stations.Length);
        double[] supposed = [.. stations.Select(s => Math.Max(bar.Radius(s), UsualBlank.LeastMm(s / bar.Length) / 2))];
        (double[] centre, double[] radius) = StackedEdges.Find(band, finder, path, supposed);
        List<BarStation> all = Read(band, finder, centre, radius);
        List<BarStation> readings = Of(all, bar, body);
        if (readings.Count >= FewestReadings)
        {
            // The first look was taken along a path that wavers by a pixel: once more along the fit.
            AxisFit rough = AxisFit.Of(readings, Interpolated(stations, radius), 100, Seen(bar, body));
            centre = [.. stations.Select(rough.Shift)];
            radius = [.. stations.Select(rough.Radius)];
            all = Read(band, finder, centre, radius);
            readings = Of(all, bar, body);
        }

        measuredBlurPx = BlurGauge.SigmaPx(band, all, mmPerPx);
        if (readings.Count < FewestReadings)
            return null;
        return (AxisFit.Of(readings, Interpolated(stations, radius), 100, Seen(bar, body)), readings, typical);
    }

    private static List<BarStation> Of(List<BarStation> readings, TracedBar bar, SeenBody? body) => body is null ? readings : body.Gated(readings, bar);

    private static Func<double, (double Middle, double Half, double Sure)>? Seen(TracedBar bar, SeenBody? body) => body is null ? null : s => body.Beside(bar, s);

    private static Func<double, double> Interpolated(double[] x, double[] y) => at =>
    {
        int k = Math.Clamp(Array.BinarySearch(x, at) is var found && found >= 0 ? found : ~found, 1, x.Length - 1);
        return y[k - 1] + ((at - x[k - 1]) / (x[k] - x[k - 1]) * (y[k] - y[k - 1]));
    };

    /// <summary>One pass: read, fit, and the bar moved there.</summary>
    public (TracedBar Bar, AxisFit Fit, List<BarStation> Readings) Pass(TracedBar bar, double windowMm, double knotMm, SeenBody? body = null)
    {
        (TracedBar moved, AxisFit fit, List<BarStation> readings, _) = WithAll(bar, windowMm, knotMm, body);
        return (moved, fit, readings);
    }

    /// <summary>The same, and what was read before the body said which edges are the blank's.</summary>
    public (TracedBar Bar, AxisFit Fit, List<BarStation> Readings, List<BarStation> Ungated) WithAll(TracedBar bar, double windowMm, double knotMm, SeenBody? body)
    {
        List<BarStation> all = Read(bar, windowMm, OwnRadii);
        List<BarStation> readings = Of(all, bar, body);
        AxisFit fit = AxisFit.Of(readings, bar.Radius, knotMm, Seen(bar, body));
        return (fit.Apply(bar, fit.From, fit.To), fit, readings, all);
    }

    /// <summary>One pass that also leaves off what goes on beyond the bar's ends.</summary>
    public TracedBar? TrimmedPass(TracedBar bar, double windowMm, double knotMm, double longestGapMm)
    {
        List<BarStation> readings = Read(bar, windowMm, HandleRadii);
        if (readings.Count < FewestReadings)
            return null;
        AxisFit fit = AxisFit.Of(readings, bar.Radius, knotMm);
        return Trimmed(bar, readings, fit, knotMm, 0, longestGapMm);
    }

    /// <summary>How surely each reading shows the fitted bar.</summary>
    public Sight[] Sights(IReadOnlyList<BarStation> readings, AxisFit fit, double leastScore) =>
        [.. readings.Select(r => See(r, fit.Shift(r.S), fit.Radius(r.S), leastScore))];

    /// <summary>How surely a reading shows a bar of that half width at that offset.</summary>
    public Sight See(BarStation r, double shift, double radius, double leastScore)
    {
        if (r.InThicker)
            return Sight.None;
        double slack = (0.25 * radius) + (0.3 * mmPerPx);
        bool left = r.LeftNoise < NoiseLimit && Math.Abs(r.Left - shift - radius) < slack;
        bool right = r.RightNoise < NoiseLimit && Math.Abs(r.Right - shift + radius) < slack;
        return left && right && r.Score >= leastScore ? Sight.Bar : left || right ? Sight.OneEdge : Sight.None;
    }

    private TracedBar? Trimmed(TracedBar bar, List<BarStation> readings, AxisFit fit, double knotMm, double leastScore, double longestGapMm)
    {
        (int first, int last) = new BarRun(StationMm, longestGapMm).Whole(Sights(readings, fit, leastScore));
        if (last - first < FewestReadings)
            return null;
        if (first > 0 || last < readings.Count - 1)
            fit = AxisFit.Of(readings[first..(last + 1)], fit.Radius, knotMm);
        return fit.Apply(bar, fit.From - (StationMm / 2), fit.To + (StationMm / 2));
    }

    private List<BarStation> Read(TracedBar bar, double windowMm, double radii)
    {
        (ProfileBand band, double[] stations) = Band(bar, windowMm, radii);
        return Read(band, new EdgeFinder(band, blurPx), new double[stations.Length], [.. stations.Select(bar.Radius)]);
    }

    private List<BarStation> Read(ProfileBand band, EdgeFinder finder, double[] centre, double[] radius)
    {
        BarEdges[] edges = new StretchOutlines(band, blurPx, centre, radius, centre.Length).ReadAll();
        List<BarStation> readings = [];
        for (int i = 0; i < centre.Length; i++)
        {
            if (band.Seen[i])
                readings.Add(finder.Describe(i, edges[i], centre[i], radius[i]));
        }

        return readings;
    }

    private (ProfileBand Band, double[] Stations) Band(TracedBar bar, double windowMm, double radii)
    {
        int count = Math.Max(4, (int)(bar.Length / StationMm));
        double[] stations = [.. Enumerable.Range(0, count).Select(i => (i + 0.5) * bar.Length / count)];
        double widest = stations.Max(bar.Radius);
        return (ProfileBand.Sample(photo.Bgr, plane, bar, stations, (radii * widest) + windowMm + (8 * mmPerPx * Math.Max(1, blurPx / EdgeFinder.SharpPx)), mmPerPx, sharpening), stations);
    }
}
