using System.Runtime.CompilerServices;

namespace DeflectScan.Tracing.Blank;

/// <summary>
/// Reads a bar's two edges from a profile: first where a bar of about the expected width stands out most, then each edge at its own half
/// level between its own background and the bar next to it, searched from outside inward so that gloss on the bar cannot catch it.
/// </summary>
/// <param name="band">Profiles to read.</param>
/// <param name="blurPx">Blur of the photo's edges, sigma in px: the stretches beside an edge grow with it.</param>
internal sealed class EdgeFinder(ProfileBand band, double blurPx)
{
    public const double SharpPx = 0.7; // blur of a sharp photo's edges

    // One pixel of a sharp photo, more of a blurred one, mm.
    private readonly double _pxMm = 2 * band.StepMm * Math.Max(1, blurPx / SharpPx);
    private const double LeastThicker = 0.02; // contrast
    private static readonly double[] Thicker = [1.5, 1.9, 2.4]; // half widths of a handle against the blank's
    private const double ThickPx = 2.5; // half width above which shade across the bar can be told from its edges
    private const double ThinPx = 0.9; // below it the half level is all there is
    private readonly ShadedBar _thin = new(band, blurPx * 2 * band.StepMm);
    private readonly ShadedEdge _shaded = new(band, blurPx * 2 * band.StepMm);
    private readonly float[] _sums = new float[3 * (band.Columns + 1)];

    /// <param name="station">Index in the band.</param>
    /// <param name="expectedMm">Where the bar's middle is expected, offset in mm.</param>
    /// <param name="radiusMm">Its expected half width.</param>
    /// <param name="windowMm">How far from there it may lie.</param>
    public BarStation Read(int station, double expectedMm, double radiusMm, double windowMm)
    {
        ReadOnlySpan<float> profile = band.Profile(station);
        Accumulate(profile);
        (double centre, double score) = Strongest(expectedMm, radiusMm, windowMm);
        double slack = Math.Max(1.5 * _pxMm, (0.35 * radiusMm) + (0.5 * _pxMm));
        Edge left = FindEdge(profile, centre, radiusMm, 1, slack);
        Edge right = FindEdge(profile, centre, radiusMm, -1, slack);
        (double leftHalf, double rightHalf) = (left.At, right.At);
        if (radiusMm > ThickPx * _pxMm)
        {
            left = Placed(left, station, 1, radiusMm);
            right = Placed(right, station, -1, radiusMm);
        }
        else if (radiusMm > ThinPx * _pxMm && left.At - right.At > _pxMm)
        {
            (double l, double r) = _thin.Place(station, left.At, right.At, _pxMm);
            (left, right) = (left with { At = l }, right with { At = r });
        }

        double inner = Math.Max(0.5 * radiusMm, 0.5 * _pxMm);
        Colour core = Mean(centre - inner, centre + inner);
        Colour around = (Side(centre, radiusMm, 1) + Side(centre, radiusMm, -1)) * 0.5;
        return new BarStation(band.Stations[station], left.At, right.At, left.Noise, right.Noise, score, core, around, IsInThicker(centre, radiusMm, score), left.At - leftHalf, rightHalf - right.At);
    }

    /// <summary>Two-sided contrast of a bar of that half width at an offset.</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public double Contrast(double centreMm, double radiusMm)
    {
        double inner = Math.Max(0.7 * radiusMm, 0.4 * _pxMm);
        Colour bar = Mean(centreMm - inner, centreMm + inner);
        Colour left = bar - Side(centreMm, radiusMm, 1);
        Colour right = bar - Side(centreMm, radiusMm, -1);
        double sum = Weaker(left.B, right.B) + Weaker(left.G, right.G) + Weaker(left.R, right.R);
        return Math.Sqrt(sum);
    }

    /// <summary>Makes <see cref="Contrast"/> speak of that profile.</summary>
    public void Look(int station) => Accumulate(band.Profile(station));

    private Edge Placed(Edge halfLevel, int station, int side, double radius) =>
        double.IsNaN(halfLevel.At) ? halfLevel : halfLevel with { At = _shaded.Fit(station, halfLevel.At, side, radius, _pxMm).At };

    // Only as far as the profile reaches.
    private bool IsInThicker(double centre, double radius, double score)
    {
        double most = 0;
        foreach (double k in Thicker)
        {
            if (((k * radius) + (3 * _pxMm)) < band.Offset(band.Columns - 1) - Math.Abs(centre))
                most = Math.Max(most, Contrast(centre, k * radius));
        }

        return most > LeastThicker && most > 1.3 * score;
    }

    /// <summary>Mean colour between two offsets of the profile looked at, in either order.</summary>
    public Colour Between(double a, double b) => Mean(Math.Min(a, b), Math.Max(a, b));

    private static double Weaker(double a, double b) => a * b <= 0 ? 0 : Math.Min(a * a, b * b);

    private (double Centre, double Score) Strongest(double expected, double radius, double window)
    {
        double best = expected;
        double bestScore = -1;
        int steps = (int)Math.Ceiling(window / band.StepMm);
        for (int k = -steps; k <= steps; k++)
        {
            double at = expected + (k * band.StepMm);
            double score = Contrast(at, radius);
            if (score > bestScore)
                (best, bestScore) = (at, score);
        }

        return (best, bestScore);
    }

    private Colour Side(double centre, double radius, int side)
    {
        double near = centre + (side * (radius + (1.2 * _pxMm)));
        double far = centre + (side * (radius + (4.5 * _pxMm)));
        return side > 0 ? Mean(near, far) : Mean(far, near);
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private Edge FindEdge(ReadOnlySpan<float> profile, double centre, double radius, int side, double slack)
    {
        double edge = centre + (side * radius);
        Edge found = Edge.None;
        for (int pass = 0; pass < 2; pass++)
        {
            double depth = Math.Min(2.4 * _pxMm, Math.Abs(edge - centre));
            double shallow = Math.Min(1.1 * _pxMm, 0.5 * depth);
            double outA = edge + (side * 1.4 * _pxMm);
            double outB = edge + (side * 5 * _pxMm);
            Colour outside = Mean(Math.Min(outA, outB), Math.Max(outA, outB));
            Colour inside = radius < 2 * _pxMm
                ? Extreme(profile, centre, radius, outside)
                : Middling(profile, edge - (side * depth), edge - (side * shallow), outside);
            Colour step = inside - outside;
            double size = step.Length;
            if (size < 0.004)
                return Edge.None;
            double noise = Scatter(profile, outA, outB, outside, step * (1 / size)) / size;
            found = Cross(profile, edge, side, slack, outside, step * (1 / (size * size)), noise);
            if (double.IsNaN(found.At))
                return found;
            edge = found.At;
        }

        return found;
    }

    // The second farthest from the background of four values just inside the edge: where gloss covers part of them, the rest tells.
    private Colour Middling(ReadOnlySpan<float> profile, double deep, double shallow, Colour outside)
    {
        Colour most = default;
        Colour second = default;
        double mostApart = -1;
        double secondApart = -1;
        for (int k = 0; k < 4; k++)
        {
            Colour c = At(profile, shallow + ((deep - shallow) * k / 3));
            double apart = (c - outside).Length;
            if (apart > mostApart)
                (most, mostApart, second, secondApart) = (c, apart, most, mostApart);
            else if (apart > secondApart)
                (second, secondApart) = (c, apart);
        }

        return second;
    }

    // The profile's value farthest from the background within the bar: the nearest thing to a plateau that a thin bar has.
    private Colour Extreme(ReadOnlySpan<float> profile, double centre, double radius, Colour outside)
    {
        Colour best = Mean(centre - (0.25 * _pxMm), centre + (0.25 * _pxMm));
        double reach = Math.Max(radius * 0.7, 0.5 * _pxMm);
        for (double u = centre - reach; u <= centre + reach; u += band.StepMm)
        {
            Colour c = At(profile, u);
            if ((c - outside).Length > (best - outside).Length)
                best = c;
        }

        return best;
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private Edge Cross(ReadOnlySpan<float> profile, double edge, int side, double slack, Colour outside, Colour unit, double noise)
    {
        double step = band.StepMm;
        double from = edge + (side * (slack + step));
        double previous = (At(profile, from) - outside).Dot(unit);
        int steps = (int)Math.Ceiling(((2 * slack) + (2 * step)) / step);
        for (int k = 1; k <= steps; k++)
        {
            double here = (At(profile, from - (side * k * step)) - outside).Dot(unit);
            if (here >= 0.5 && previous < 0.5)
            {
                double t = (0.5 - previous) / (here - previous);
                double at = from - (side * (k - 1 + t) * step);
                return new Edge(at, noise);
            }

            previous = here;
        }

        return Edge.None;
    }

    private double Scatter(ReadOnlySpan<float> profile, double a, double b, Colour mean, Colour unit)
    {
        double sum = 0;
        int n = 0;
        for (double u = Math.Min(a, b); u <= Math.Max(a, b); u += band.StepMm, n++)
        {
            double d = (At(profile, u) - mean).Dot(unit);
            sum += d * d;
        }

        return Math.Sqrt(sum / Math.Max(1, n));
    }

    private Colour At(ReadOnlySpan<float> profile, double offset)
    {
        double x = Math.Clamp(band.Column(offset), 0, band.Columns - 1.001);
        int i = 3 * (int)x;
        double f = x - (int)x;
        return new Colour(
            profile[i] + (f * (profile[i + 3] - profile[i])),
            profile[i + 1] + (f * (profile[i + 4] - profile[i + 1])),
            profile[i + 2] + (f * (profile[i + 5] - profile[i + 2])));
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private void Accumulate(ReadOnlySpan<float> profile)
    {
        for (int i = 0; i < profile.Length; i++)
            _sums[i + 3] = _sums[i] + profile[i];
    }

    // Mean over an interval of offsets, whole columns.
    private Colour Mean(double from, double to)
    {
        int a = Math.Clamp((int)Math.Round(band.Column(from)), 0, band.Columns - 1);
        int b = Math.Clamp((int)Math.Round(band.Column(to)), a, band.Columns - 1) + 1;
        float n = b - a;
        return new Colour(
            (_sums[3 * b] - _sums[3 * a]) / n,
            (_sums[(3 * b) + 1] - _sums[(3 * a) + 1]) / n,
            (_sums[(3 * b) + 2] - _sums[(3 * a) + 2]) / n);
    }

    private readonly record struct Edge(double At, double Noise)
    {
        public static readonly Edge None = new(double.NaN, double.NaN);
    }
}
