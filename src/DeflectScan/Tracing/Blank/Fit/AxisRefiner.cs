using DeflectScan.Calibration;
using DeflectScan.Photos;

namespace DeflectScan.Tracing.Blank;

/// <summary>Measures a roughly known bar on the photo itself: reads its edges along the way and fits axis and taper, again and again.</summary>
/// <param name="photo">Upright photo.</param>
/// <param name="plane">The plane that the bar lies in.</param>
/// <param name="mmPerPx">Scale along the bar.</param>
/// <param name="blurPx">Blur of its edges, sigma in px.</param>
/// <param name="sharpening">What the camera did to edges; null where that is not known.</param>
/// <param name="body">Where the network sees the bar: edges that are none of its are not taken.</param>
internal sealed class AxisRefiner(UprightPhoto photo, RodPlane plane, double mmPerPx, double blurPx, UnsharpMask? sharpening, SeenBody body)
{
    private const double NoiseLimit = 0.35; // background scatter, as a share of the step, of a clear edge

    private const double LeastReachMm = 5; // more of them, whatever the window: how blurred edges are shows over some millimetres
    private const double OwnRadii = 1.35;
    private const int FewestReadings = 20;
    private const double RoughKnotMm = 100;

    public double StationMm { get; } = ProfileBand.RowsPerStation * mmPerPx;

    /// <summary>The first pass on a bar as the network sees it: its edges, read twice, as the first look is taken where the bar was only supposed. Null where hardly any is seen.</summary>
    public TracedBar? FirstPass(TracedBar bar, double windowMm, out double measuredBlurPx)
    {
        (ProfileBand band, double[] stations) = Band(bar, Math.Max(windowMm, LeastReachMm), OwnRadii);
        EdgeFinder finder = new(band, blurPx);
        double[] centre = new double[stations.Length];
        double[] radius = [.. stations.Select(bar.Radius)];
        List<BarStation> all = Read(band, finder, centre, radius);
        List<BarStation> readings = body.Gated(all, bar);
        if (readings.Count >= FewestReadings)
        {
            AxisFit rough = AxisFit.Of(readings, Interpolated(stations, radius), RoughKnotMm, s => body.Beside(bar, s));
            centre = [.. stations.Select(rough.Shift)];
            radius = [.. stations.Select(rough.Radius)];
            all = Read(band, finder, centre, radius);
            readings = body.Gated(all, bar);
        }

        measuredBlurPx = BlurGauge.SigmaPx(band, all, mmPerPx);
        if (readings.Count < FewestReadings)
            return null;
        AxisFit fit = AxisFit.Of(readings, Interpolated(stations, radius), RoughKnotMm, s => body.Beside(bar, s));
        return fit.Apply(bar, fit.From - (StationMm / 2), fit.To + (StationMm / 2));
    }

    private static Func<double, double> Interpolated(double[] x, double[] y) => at =>
    {
        int k = Math.Clamp(Array.BinarySearch(x, at) is var found && found >= 0 ? found : ~found, 1, x.Length - 1);
        return y[k - 1] + ((at - x[k - 1]) / (x[k] - x[k - 1]) * (y[k] - y[k - 1]));
    };

    /// <summary>One pass: read, fit, and the bar moved there; and what was read before the body said which edges are the blank's.</summary>
    public (TracedBar Bar, AxisFit Fit, List<BarStation> Readings, List<BarStation> Ungated) Pass(TracedBar bar, double windowMm, double knotMm)
    {
        (ProfileBand band, double[] stations) = Band(bar, windowMm, OwnRadii);
        List<BarStation> all = Read(band, new EdgeFinder(band, blurPx), new double[stations.Length], [.. stations.Select(bar.Radius)]);
        List<BarStation> readings = body.Gated(all, bar);
        AxisFit fit = AxisFit.Of(readings, bar.Radius, knotMm, s => body.Beside(bar, s));
        return (fit.Apply(bar, fit.From, fit.To), fit, readings, all);
    }

    /// <summary>How surely each reading shows the fitted bar.</summary>
    public Sight[] Sights(IReadOnlyList<BarStation> readings, AxisFit fit) => [.. readings.Select(r => See(r, fit.Shift(r.S), fit.Radius(r.S)))];

    private Sight See(BarStation r, double shift, double radius)
    {
        if (r.InThicker)
            return Sight.None;
        double slack = (0.25 * radius) + (0.3 * mmPerPx);
        bool left = r.LeftNoise < NoiseLimit && Math.Abs(r.Left - shift - radius) < slack;
        bool right = r.RightNoise < NoiseLimit && Math.Abs(r.Right - shift + radius) < slack;
        return left && right ? Sight.Bar : left || right ? Sight.OneEdge : Sight.None;
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
