
namespace DeflectScan.Tracing.Blank;

/// <summary>What a profile shows of a bar of about the expected width: its contrast to both sides, its colours, whether a thicker one stands out more.</summary>
/// <param name="band">Profiles to read.</param>
/// <param name="blurPx">Blur of the photo's edges, sigma in px: the stretches beside an edge grow with it.</param>
internal sealed class EdgeFinder(ProfileBand band, double blurPx)
{
    public const double SharpPx = 0.7; // blur of a sharp photo's edges

    // One pixel of a sharp photo, more of a blurred one, mm.
    private readonly double _pxMm = 2 * band.StepMm * Math.Max(1, blurPx / SharpPx);
    private const double LeastThicker = 0.02; // contrast
    private static readonly double[] Thicker = [1.5, 1.9, 2.4]; // half widths of a handle against the blank's
    private readonly float[] _sums = new float[3 * (band.Columns + 1)];

    /// <summary>A profile whose edges were read, with what is seen between and beside them.</summary>
    /// <param name="station">Index in the band.</param>
    /// <param name="edges">Its edges.</param>
    /// <param name="expectedMm">Where the bar's middle was expected, offset in mm: used where an edge is not seen.</param>
    /// <param name="radiusMm">Its expected half width.</param>
    public BarStation Describe(int station, BarEdges edges, double expectedMm, double radiusMm)
    {
        Look(station);
        double centre = double.IsNaN(edges.Left + edges.Right) ? expectedMm : (edges.Left + edges.Right) / 2;
        double score = Contrast(centre, radiusMm);
        return new BarStation(
            band.Stations[station], edges.Left, edges.Right, edges.LeftNoise, edges.RightNoise, score,
            IsInThicker(centre, radiusMm, score), edges.LeftMoved, edges.RightMoved);
    }

    /// <summary>Two-sided contrast of a bar of that half width at an offset.</summary>
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

    private static double Weaker(double a, double b) => a * b <= 0 ? 0 : Math.Min(a * a, b * b);

    private Colour Side(double centre, double radius, int side)
    {
        double near = centre + (side * (radius + (1.2 * _pxMm)));
        double far = centre + (side * (radius + (4.5 * _pxMm)));
        return side > 0 ? Mean(near, far) : Mean(far, near);
    }

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
}
