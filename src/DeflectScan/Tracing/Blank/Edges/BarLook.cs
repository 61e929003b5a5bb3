
namespace DeflectScan.Tracing.Blank;

/// <summary>
/// How a thin bar looks over a stretch, both sides at once: in a bar of a few pixels no edge has a level of its own. A single profile is
/// read by how far the whole look has to be moved to fit it, whatever stands behind the bar on either side.
/// </summary>
internal sealed class BarLook
{
    private const double OutsidePx = 4;
    private const double ReachPx = 2;
    private const double BackgroundPx = 1.2;
    private const double ThinPx = 0.9; // half width below which width and contrast cannot be told apart: half levels then
    private const double LeastStep = 0.004;
    private const int Rounds = 3;

    private readonly ProfileBand _band;
    private readonly int _count;
    private readonly double _fromMm; // first value from the supposed middle
    private readonly double _pxMm;
    private readonly double[] _own;
    private readonly double[] _lower; // share of the background on the first side
    private readonly double[] _upper;
    private readonly double[] _lowerSlope;
    private readonly double[] _upperSlope;
    private readonly double[] _values;
    private readonly double _determinant;
    private readonly double _ll;
    private readonly double _uu;
    private readonly double _lu;

    private BarLook(ProfileBand band, double fromMm, double pxMm, double[] own, double lowerMm, double upperMm, double blurMm)
    {
        _band = band;
        _count = own.Length / 3;
        _fromMm = fromMm;
        _pxMm = pxMm;
        _own = own;
        _values = new double[own.Length];
        (_lower, _upper) = Covers(_count, band.StepMm, lowerMm, upperMm, blurMm);
        _lowerSlope = Slope(_lower);
        _upperSlope = Slope(_upper);
        for (int k = 0; k < _count; k++)
        {
            _ll += _lower[k] * _lower[k];
            _uu += _upper[k] * _upper[k];
            _lu += _lower[k] * _upper[k];
        }

        _determinant = (_ll * _uu) - (_lu * _lu);
    }

    /// <summary>How far outward from their half levels shade and gloss move the outlines, mm.</summary>
    public (double Left, double Right) MovedMm { get; private init; }

    /// <summary>Offset of the outline on the other side from the supposed middle, mm.</summary>
    public double RightMm { get; private init; }

    /// <summary>Offset of the outline on the normal's side from the supposed middle, mm.</summary>
    public double LeftMm { get; private init; }

    /// <param name="band">Profiles.</param>
    /// <param name="stations">The stretch: indices in the band.</param>
    /// <param name="middleMm">For each the supposed middle, offset in mm.</param>
    /// <param name="radiusMm">The supposed half width.</param>
    /// <param name="pxMm">A pixel, larger where the photo is blurred.</param>
    /// <param name="blurMm">Blur of edges, sigma.</param>
    public static BarLook Of(ProfileBand band, IReadOnlyList<int> stations, double[] middleMm, double radiusMm, double pxMm, double blurMm)
    {
        double step = band.StepMm;
        double reach = Math.Max(radiusMm, 0.5 * pxMm) + (OutsidePx * pxMm);
        int count = (int)(2 * reach / step) + 1;
        double[] from = [.. middleMm.Select(m => m - reach)];
        double[] values = MiddleProfile.Values(band, stations, from, step, count);
        double[] middle = MiddleProfile.Of(values, stations.Count, 3 * count);
        double outside = reach - radiusMm;
        double lower = reach - radiusMm + HalfLevel.Of(middle, outside, step, pxMm);
        double upper = reach + radiusMm - HalfLevel.Of(Turned(middle), ((count - 1) * step) - reach - radiusMm, step, pxMm);
        (double lowerHalf, double upperHalf) = (lower, upper);
        if (upper - lower > 2 * ThinPx * pxMm)
        {
            (double l, double u) = ShadedBar.Place(middle, lower, upper, step, blurMm, pxMm);
            (lower, upper) = (lower + l, upper + u);
        }

        (double[] below, double[] above) = Covers(count, step, lower, upper, blurMm);
        int levelLower = Math.Clamp((int)((lower - (BackgroundPx * pxMm)) / step), 2, count / 2);
        int levelUpper = Math.Clamp(count - 1 - (int)((upper + (BackgroundPx * pxMm)) / step), 2, count / 2);
        TakeBackgrounds(values, stations.Count, count, below, above, levelLower, levelUpper);
        return new BarLook(band, -reach, pxMm, MiddleProfile.Of(values, stations.Count, 3 * count), lower, upper, blurMm)
        {
            MovedMm = (upper - upperHalf, lowerHalf - lower),
            RightMm = lower - reach,
            LeftMm = upper - reach,
        };
    }

    /// <summary>How far one profile's bar lies from the supposed middle, mm, with its misfit as a share of the step; NaN where none is.</summary>
    public (double MovedMm, double Noise) Read(int station, double middleMm)
    {
        double step = 2 * _band.StepMm;
        int reach = (int)(ReachPx * _pxMm / step);
        double best = 0;
        double least = double.MaxValue;
        for (int g = -reach; g <= reach; g++)
        {
            double misfit = Fit(station, middleMm + (g * step)).Misfit;
            if (misfit < least)
                (best, least) = (g * step, misfit);
        }

        Move last = default;
        for (int round = 0; round < Rounds; round++)
        {
            last = Fit(station, middleMm + best);
            if (last.StepSize < LeastStep || !double.IsFinite(last.ByMm))
                return (double.NaN, double.NaN);
            best += Math.Clamp(last.ByMm, -step, step);
        }

        return (best, Math.Sqrt(last.Misfit / _count) / last.StepSize);
    }

    private Move Fit(int station, double middleMm)
    {
        MiddleProfile.Fill(_band, station, middleMm + _fromMm, _band.StepMm, _values);
        double misfit = 0;
        double gg = 0;
        double gr = 0;
        double stepSize = 0;
        for (int q = 0; q < 3; q++)
        {
            double lv = 0;
            double uv = 0;
            for (int k = 0; k < _count; k++)
            {
                double v = _values[(3 * k) + q] - _own[(3 * k) + q];
                lv += _lower[k] * v;
                uv += _upper[k] * v;
            }

            double lower = ((lv * _uu) - (uv * _lu)) / _determinant;
            double upper = ((uv * _ll) - (lv * _lu)) / _determinant;
            double lg = 0;
            double ug = 0;
            double qgg = 0;
            double most = 0;
            for (int k = 0; k < _count; k++)
            {
                double behind = (lower * _lower[k]) + (upper * _upper[k]);
                double r = _values[(3 * k) + q] - _own[(3 * k) + q] - behind;
                double slope = (_own[(3 * Math.Min(k + 1, _count - 1)) + q] - _own[(3 * Math.Max(k - 1, 0)) + q]) / (2 * _band.StepMm);
                double g = -(slope + (lower * _lowerSlope[k]) + (upper * _upperSlope[k]));
                misfit += r * r;
                lg += _lower[k] * g;
                ug += _upper[k] * g;
                qgg += g * g;
                gr += g * r;
                double apart = _own[(3 * k) + q] + behind - ((lower + upper) / 2);
                if (_lower[k] + _upper[k] < 0.7 && Math.Abs(apart) > Math.Abs(most))
                    most = apart;
            }

            gg += qgg - (((lg * lg * _uu) - (2 * lg * ug * _lu) + (ug * ug * _ll)) / _determinant);
            stepSize += most * most;
        }

        return new Move(gr / Math.Max(gg, 1e-12), misfit, Math.Sqrt(stepSize));
    }

    private static (double[] Lower, double[] Upper) Covers(int count, double step, double lowerMm, double upperMm, double blurMm)
    {
        double[] lower = new double[count];
        double[] upper = new double[count];
        for (int k = 0; k < count; k++)
        {
            lower[k] = ShadedEdge.Phi((lowerMm - (k * step)) / blurMm);
            upper[k] = ShadedEdge.Phi(((k * step) - upperMm) / blurMm);
        }

        return (lower, upper);
    }

    private double[] Slope(double[] v)
    {
        double[] slope = new double[v.Length];
        for (int k = 0; k < v.Length; k++)
            slope[k] = (v[Math.Min(k + 1, v.Length - 1)] - v[Math.Max(k - 1, 0)]) / (2 * _band.StepMm);
        return slope;
    }

    private static void TakeBackgrounds(double[] values, int stations, int count, double[] lower, double[] upper, int levelLower, int levelUpper)
    {
        for (int i = 0; i < stations; i++)
        {
            Span<double> own = values.AsSpan(i * count * 3, count * 3);
            for (int q = 0; q < 3; q++)
            {
                double first = 0;
                double second = 0;
                for (int k = 0; k < levelLower; k++)
                    first += own[(3 * k) + q];
                for (int k = count - levelUpper; k < count; k++)
                    second += own[(3 * k) + q];
                for (int k = 0; k < count; k++)
                    own[(3 * k) + q] -= (lower[k] * first / levelLower) + (upper[k] * second / levelUpper);
            }
        }
    }

    private static double[] Turned(double[] values)
    {
        double[] turned = new double[values.Length];
        int count = values.Length / 3;
        for (int k = 0; k < count; k++)
            Array.Copy(values, 3 * k, turned, 3 * (count - 1 - k), 3);
        return turned;
    }

    private readonly record struct Move(double ByMm, double Misfit, double StepSize);
}
