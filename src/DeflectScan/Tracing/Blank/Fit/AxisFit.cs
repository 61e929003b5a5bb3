using DeflectScan.Geometry;
using DeflectScan.Numerics;

namespace DeflectScan.Tracing.Blank;

/// <summary>
/// One smooth axis and one smooth taper through all edges at once: left = axis + radius, right = axis - radius. Iteratively reweighted
/// (Tukey's biweight), so that wraps, guide feet, shadows and crossings drop out, and where one side is lost the other still tells.
/// </summary>
internal sealed class AxisFit
{
    private const double NoiseLimit = 0.35; // background scatter, as a share of the step, above which an edge is not used
    private const double FaintShare = 0.15; // of the bar's usual contrast: at that much a reading counts a quarter
    private const double TukeyCut = 4.7;
    private const double TipGuardMm = 14; // the tip-top's tube thickens what is seen of the tip's end
    private const double WideStartMm = 2.5; // what a first guess of the axis may be wrong by over a stretch
    private const int Rounds = 9;

    private readonly PenalisedSpline _shift;
    private readonly PenalisedSpline _radius;

    private AxisFit(PenalisedSpline shift, PenalisedSpline radius, double edgeSdMm, double radiusSdMm, bool[] agrees, double from, double to)
    {
        _shift = shift;
        _radius = radius;
        EdgeSdMm = edgeSdMm;
        RadiusSdMm = radiusSdMm;
        Agrees = agrees;
        From = from;
        To = to;
    }

    /// <summary>Robust scatter of single edges about the fit, mm.</summary>
    public double EdgeSdMm { get; }

    /// <summary>Robust scatter of single half widths about the taper, mm.</summary>
    public double RadiusSdMm { get; }

    /// <summary>For each station: both edges lie on the fitted bar.</summary>
    public IReadOnlyList<bool> Agrees { get; }

    public double From { get; }

    public double To { get; }

    public double Shift(double s) => _shift.At(s);

    public double Radius(double s) => _radius.At(s);

    /// <summary>Standard uncertainty of the axis at s with <paramref name="inflation"/> for neighbouring stations that err together.</summary>
    public double ShiftSd(double s, double inflation) => EdgeSdMm * Math.Sqrt(_shift.Variance(s) * inflation);

    public double RadiusSd(double s, double inflation) => RadiusSdMm * Math.Sqrt(_radius.Variance(s) * inflation);

    /// <param name="stations">Readings on the base curve.</param>
    /// <param name="radiusMm">Half width by station to start from.</param>
    /// <param name="knotMm">Distance of the axis's knots.</param>
    /// <param name="seen">By station, where else the bar is known to lie (offset of its middle, half width, mm, and how surely), each with <see cref="SeenBody.Weight"/>
    /// beside 1 for a clear edge, its middle less where it is hardly seen: it keeps the bar there over a stretch of which no edge is seen.</param>
    public static AxisFit Of(IReadOnlyList<BarStation> stations, Func<double, double> radiusMm, double knotMm, Func<double, (double Middle, double Half, double Sure)> seen)
    {
        double from = stations[0].S;
        double to = stations[^1].S;
        int n = stations.Count;
        double[] s = [.. stations.Select(p => p.S)];
        double[] half = [.. stations.Select(p => p.BothSeen ? p.WidthMm / 2 : 0)];
        double usual = Usual(stations);
        double[] halfPrior = [.. stations.Select(p => p.BothSeen && p.S < to - TipGuardMm ? Trust(p.LeftNoise) * Trust(p.RightNoise) * Contrast(p, usual) : 0)];
        (double Middle, double Half, double Sure)[] known = [.. s.Select(seen)];
        double[] halfAt = [.. s, .. s];
        half = [.. half, .. known.Select(k => k.Half)];
        halfPrior = [.. halfPrior, .. known.Select(_ => SeenBody.Weight)];
        PenalisedSpline radius = Robust(halfAt, half, halfPrior, radiusMm, n, from, to, 120, 3, 5, lower: true, out double radiusSd, out _);

        double[] s2 = new double[(2 * n) + known.Length];
        double[] edge = new double[s2.Length];
        double[] prior = new double[s2.Length];
        for (int i = 0; i < known.Length; i++)
            (s2[(2 * n) + i], edge[(2 * n) + i], prior[(2 * n) + i]) = (s[i], known[i].Middle, SeenBody.Weight * known[i].Sure * known[i].Sure);
        for (int i = 0; i < n; i++)
        {
            double r = radius.At(s[i]);
            s2[2 * i] = s2[(2 * i) + 1] = s[i];
            if (!double.IsNaN(stations[i].Left))
                (edge[2 * i], prior[2 * i]) = (stations[i].Left - r, Trust(stations[i].LeftNoise) * Contrast(stations[i], usual));
            if (!double.IsNaN(stations[i].Right))
                (edge[(2 * i) + 1], prior[(2 * i) + 1]) = (stations[i].Right + r, Trust(stations[i].RightNoise) * Contrast(stations[i], usual));
        }

        PenalisedSpline shift = Robust(s2, edge, prior, _ => 0, 2 * n, from, to, knotMm, 3, 0.3, lower: false, out double edgeSd, out double[] weights);
        bool[] agrees = [.. Enumerable.Range(0, n).Select(i => weights[2 * i] > 0.1 && weights[(2 * i) + 1] > 0.1)];
        return new AxisFit(shift, radius, edgeSd, radiusSd, agrees, from, to);
    }

    /// <summary>The fitted bar between two stations of the base curve.</summary>
    public TracedBar Apply(TracedBar before, double from, double to)
    {
        int count = Math.Max(4, (int)Math.Round((to - from) / 8));
        double[] s = [.. Enumerable.Range(0, count + 1).Select(i => from + ((to - from) * i / count))];
        ArcCurve curve = ArcCurve.Through([.. s.Select(x => before.Curve.Point(x) + (before.Curve.Normal(x) * Shift(x)))]);
        return new TracedBar(curve, [.. s.Select(x => Radius(x))]);
    }

    // Where the bar hardly stands out, what was taken for it may be something else.
    private static double Contrast(BarStation p, double usual)
    {
        double share = p.Score / (p.Score + (FaintShare * usual) + 1e-9);
        return share * share;
    }

    private static double Usual(IReadOnlyList<BarStation> stations) => OrderStatistics.Middle(stations.Select(p => p.Score));

    private static double Trust(double noise) => noise > NoiseLimit ? 0 : 1 / (1 + (noise * noise * 100));

    private static PenalisedSpline Robust(
        double[] x, double[] y, double[] prior, Func<double, double> start, int read, double from, double to, double knotMm, int order, double penalty,
        bool lower, out double scale, out double[] weights)
    {
        weights = new double[x.Length];
        double[] residuals = [.. x.Select((v, i) => y[i] - start(v))];
        PenalisedSpline? fit = null;
        scale = 1;
        for (int round = 0; round < Rounds; round++)
        {
            scale = Math.Max(Scale(residuals.AsSpan(0, read), prior, lower), 1e-3);
            // From gentle to strict, so that a poor start is not taken for outliers.
            double cut = Math.Max(TukeyCut * scale * Math.Max(1, 3 - (0.5 * round)), lower ? 0 : WideStartMm * Math.Pow(0.6, round));
            for (int i = 0; i < x.Length; i++)
            {
                // A bare blank is never wider than its wraps: readings above the taper are believed less.
                double r = lower && residuals[i] > 0 ? 1.6 * residuals[i] : residuals[i];
                double t = Math.Abs(r) < cut ? 1 - ((r / cut) * (r / cut)) : 0;
                weights[i] = prior[i] * t * t;
            }

            fit = PenalisedSpline.Fit(x, y, weights, from, to, knotMm, order, penalty);
            for (int i = 0; i < x.Length; i++)
                residuals[i] = y[i] - fit.At(x[i]);
        }

        return fit!;
    }

    // Of what was read on the photo: what else is known lies on a smooth curve, and its smallness would make outliers of all edges.
    private static double Scale(ReadOnlySpan<double> residuals, double[] prior, bool lower)
    {
        List<double> sizes = [];
        for (int i = 0; i < residuals.Length; i++)
        {
            if (prior[i] > 0 && !(lower && residuals[i] > 0))
                sizes.Add(Math.Abs(residuals[i]));
        }

        return sizes.Count == 0 ? 1 : NormalLaw.SdPerMedianSize * OrderStatistics.Middle(sizes);
    }
}
