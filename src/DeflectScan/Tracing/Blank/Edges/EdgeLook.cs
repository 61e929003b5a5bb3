using DeflectScan.Numerics;

namespace DeflectScan.Tracing.Blank;

/// <summary>
/// How one side of the bar looks over a stretch: the bar's own part of the middle profile, and where its outline lies on it. A single
/// profile is then read by how far the look has to be moved to fit it, whatever stands behind the bar there; gloss and shade on the bar
/// cannot catch the reading, since they are part of the look.
/// </summary>
internal sealed class EdgeLook
{
    private const double OutsidePx = 4.5;
    private const double InsidePx = 3;
    private const double MovePx = 1.5; // how far the outline may lie from where it was supposed
    private const double ReachPx = 2; // how far a single profile may be moved
    private const double BackgroundPx = 1.2; // farther out than this the bar has no part
    private const double LeastStep = 0.004; // linear light
    private const int Rounds = 3;

    private readonly ProfileBand _band;
    private readonly int _side;
    private readonly int _count;
    private readonly double _outsideMm;
    private readonly double _pxMm;
    private readonly double _blurMm;
    private readonly double[] _own; // the bar's part: value, colour
    private readonly double[] _slope;
    private readonly double[] _cover; // share of the background
    private readonly double[] _bell; // how steeply that falls: e to the -z^2/2
    private readonly double _coverSquares;
    private readonly double[] _values;
    private readonly double[] _apart;

    private EdgeLook(ProfileBand band, int side, int count, double outsideMm, double outwardMm, double pxMm, double blurMm, double[] own)
    {
        _band = band;
        _side = side;
        _count = count;
        _outsideMm = outsideMm;
        _pxMm = pxMm;
        _blurMm = blurMm;
        _own = own;
        OutwardMm = outwardMm;
        _values = new double[3 * count];
        _apart = new double[3 * count];
        _slope = new double[3 * count];
        _cover = new double[count];
        _bell = new double[count];
        for (int k = 0; k < count; k++)
        {
            double z = (outsideMm - outwardMm - (k * band.StepMm)) / blurMm;
            _cover[k] = ShadedEdge.Phi(z);
            _bell[k] = Math.Exp(-z * z / 2);
            _coverSquares += _cover[k] * _cover[k];
            for (int q = 0; q < 3; q++)
                _slope[(3 * k) + q] = (own[(3 * Math.Min(k + 1, count - 1)) + q] - own[(3 * Math.Max(k - 1, 0)) + q]) / (2 * band.StepMm);
        }
    }

    /// <summary>How far outward from where it was supposed the outline lies over the stretch, mm.</summary>
    public double OutwardMm { get; }

    /// <summary>How far outward from its half level shade and gloss move it, mm.</summary>
    public double MovedMm { get; private init; }

    /// <param name="band">Profiles.</param>
    /// <param name="stations">The stretch: indices in the band.</param>
    /// <param name="supposedMm">For each its supposed outline, offset in mm.</param>
    /// <param name="side">+1 for the edge on the normal's side, -1 for the other.</param>
    /// <param name="radiusMm">The bar's half width there.</param>
    /// <param name="pxMm">A pixel, larger where the photo is blurred.</param>
    /// <param name="blurMm">Blur of edges, sigma.</param>
    public static EdgeLook Of(ProfileBand band, IReadOnlyList<int> stations, double[] supposedMm, int side, double radiusMm, double pxMm, double blurMm)
    {
        double step = band.StepMm;
        int outside = (int)(OutsidePx * pxMm / step);
        int count = outside + (int)(Math.Min(InsidePx * pxMm, 0.8 * radiusMm) / step) + 1;
        double outsideMm = outside * step;
        double[] from = [.. supposedMm.Select(s => s + (side * outsideMm))];
        double[] values = MiddleProfile.Values(band, stations, from, -side * step, count);
        double[] middle = MiddleProfile.Of(values, stations.Count, 3 * count);
        (double inward, _) = ShadedEdge.Place(middle, outsideMm, step, blurMm, pxMm, MovePx * pxMm);
        double half = HalfLevel.Of(middle, outsideMm, step, pxMm);
        double[] cover = new double[count];
        for (int k = 0; k < count; k++)
            cover[k] = ShadedEdge.Phi((outsideMm + inward - (k * step)) / blurMm);
        int level = Math.Max(2, (int)((outsideMm + inward - (BackgroundPx * pxMm)) / step));
        TakeBackground(values, stations.Count, count, cover, level);
        return new EdgeLook(band, side, count, outsideMm, -inward, pxMm, blurMm, MiddleProfile.Of(values, stations.Count, 3 * count))
        {
            MovedMm = half - inward,
        };
    }

    /// <summary>One profile's outline, offset in mm, with its misfit as a share of the step; NaN where no edge is.</summary>
    public (double At, double Noise) Read(int station, double supposedMm)
    {
        double best = 0;
        double least = double.MaxValue;
        double step = 2 * _band.StepMm;
        int reach = (int)(ReachPx * _pxMm / step);
        for (int g = -reach; g <= reach; g++)
        {
            Move m = Fit(station, supposedMm, g * step);
            if (m.Misfit < least)
                (best, least) = (g * step, m.Misfit);
        }

        Move last = default;
        for (int round = 0; round < Rounds; round++)
        {
            last = Fit(station, supposedMm, best);
            if (last.StepSize < LeastStep || !double.IsFinite(last.ByMm))
                return (double.NaN, double.NaN);
            best += Math.Clamp(last.ByMm, -step, step);
        }

        return (supposedMm + OutwardOffset(best), Math.Sqrt(last.Misfit / _count) / last.StepSize);
    }

    private double OutwardOffset(double movedMm) => _side * (OutwardMm + movedMm);

    // The look moved outward by so much: its misfit with the background that suits best, and how much farther it should move.
    private Move Fit(int station, double supposedMm, double outwardMm)
    {
        MiddleProfile.Fill(_band, station, supposedMm + (_side * (_outsideMm + outwardMm)), -_side * _band.StepMm, _values);
        Span<double> seen = stackalloc double[3];
        seen.Clear();
        for (int k = 0; k < _count; k++)
        {
            for (int q = 0; q < 3; q++)
            {
                double apart = _values[(3 * k) + q] - _own[(3 * k) + q];
                _apart[(3 * k) + q] = apart;
                seen[q] += _cover[k] * apart;
            }
        }

        double misfit = 0;
        double stepSize = 0;
        double gg = 0;
        double gr = 0;
        for (int q = 0; q < 3; q++)
        {
            double level = seen[q] / _coverSquares;
            double cg = 0;
            double own = 0;
            double qgg = 0;
            double qgr = 0;
            for (int k = 0; k < _count; k++)
            {
                double c = _cover[k];
                double r = _apart[(3 * k) + q] - (level * c);
                double g = _slope[(3 * k) + q] - (level * _bell[k] * NormalLaw.DensityAtZero / _blurMm);
                misfit += r * r;
                cg += c * g;
                qgg += g * g;
                qgr += g * r;
                double shown = _own[(3 * k) + q] - (level * (1 - c));
                if (c < 0.1 && Math.Abs(shown) > Math.Abs(own))
                    own = shown;
            }

            gg += qgg - (cg * cg / _coverSquares);
            gr += qgr;
            stepSize += own * own;
        }

        return new Move(gr / Math.Max(gg, 1e-12), misfit, Math.Sqrt(stepSize));
    }

    private static void TakeBackground(double[] values, int stations, int count, double[] cover, int level)
    {
        for (int i = 0; i < stations; i++)
        {
            Span<double> own = values.AsSpan(i * count * 3, count * 3);
            for (int q = 0; q < 3; q++)
            {
                double sum = 0;
                for (int k = 0; k < level; k++)
                    sum += own[(3 * k) + q];
                for (int k = 0; k < count; k++)
                    own[(3 * k) + q] -= cover[k] * sum / level;
            }
        }
    }

    private readonly record struct Move(double ByMm, double Misfit, double StepSize);
}
