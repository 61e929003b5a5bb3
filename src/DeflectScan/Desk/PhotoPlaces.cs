using DeflectScan.Geometry;
using MathNet.Numerics.LinearAlgebra;

namespace DeflectScan.Desk;

/// <summary>
/// Where a point of the rod plane lies in the photo, from a document alone: the homography (plane to photo) that fits the document's axis and
/// rings best, set right at each station by what it misses there, so that the axis itself is exact and lens distortion is followed along it.
/// </summary>
public sealed class PhotoPlaces
{
    private readonly MeasuredLayout _rod;
    private readonly double[] _h;
    private readonly (Vec2 Centre, double Scale) _mm;
    private readonly (Vec2 Centre, double Scale) _px;

    private PhotoPlaces(MeasuredLayout rod, double[] h, (Vec2 Centre, double Scale) mm, (Vec2 Centre, double Scale) px) => (_rod, _h, _mm, _px) = (rod, h, mm, px);

    /// <summary>The map of a rod.</summary>
    public static PhotoPlaces Of(MeasuredLayout rod)
    {
        (Vec2 Mm, Vec2 Px)[] pairs =
        [
            .. rod.Measurement.Blank!.Axis.Select(a => (a.Mm, a.Px)),

            // Rings lie off the axis, where the axis alone says little: each counts as much as ten of its points.
            .. rod.Rings.SelectMany((r, i) => Enumerable.Repeat((r.PointMm, rod.Measurement.Guides[i].RingPx), 10)),
        ];
        (Vec2, double) mm = Frame([.. pairs.Select(p => p.Mm)]);
        (Vec2, double) px = Frame([.. pairs.Select(p => p.Px)]);
        return new PhotoPlaces(rod, Homography([.. pairs.Select(p => (In(mm, p.Mm), In(px, p.Px)))]), mm, px);
    }

    /// <summary>The photo px of a point given by its station and its place in the plane.</summary>
    public Vec2 OfPoint(double stationMm, Vec2 pointMm)
    {
        IReadOnlyList<AxisSample> axis = _rod.Measurement.Blank!.Axis;
        int i = 1;
        while (i < axis.Count - 1 && axis[i].SMm < stationMm)
            i++;
        double t = Math.Clamp((stationMm - axis[i - 1].SMm) / (axis[i].SMm - axis[i - 1].SMm), 0, 1);
        Vec2 missed = Vec2.Lerp(axis[i - 1].Px - Mapped(axis[i - 1].Mm), axis[i].Px - Mapped(axis[i].Mm), t);
        return Mapped(pointMm) + missed;
    }

    private Vec2 Mapped(Vec2 mm)
    {
        Vec2 p = In(_mm, mm);
        double w = (_h[6] * p.X) + (_h[7] * p.Y) + 1;
        Vec2 q = new(((_h[0] * p.X) + (_h[1] * p.Y) + _h[2]) / w, ((_h[3] * p.X) + (_h[4] * p.Y) + _h[5]) / w);
        return (q / _px.Scale) + _px.Centre;
    }

    /// <summary>The eight numbers by linear least squares (h33 = 1: the middle of the frame lies before the camera), in frames of unit size.</summary>
    private static double[] Homography((Vec2 From, Vec2 To)[] pairs)
    {
        Matrix<double> a = Matrix<double>.Build.Dense(2 * pairs.Length, 8);
        Vector<double> b = Vector<double>.Build.Dense(2 * pairs.Length);
        for (int i = 0; i < pairs.Length; i++)
        {
            (Vec2 f, Vec2 t) = pairs[i];
            a.SetRow(2 * i, [f.X, f.Y, 1, 0, 0, 0, -t.X * f.X, -t.X * f.Y]);
            a.SetRow((2 * i) + 1, [0, 0, 0, f.X, f.Y, 1, -t.Y * f.X, -t.Y * f.Y]);
            b[2 * i] = t.X;
            b[(2 * i) + 1] = t.Y;
        }

        return a.QR().Solve(b).ToArray();
    }

    private static (Vec2 Centre, double Scale) Frame(Vec2[] points)
    {
        Vec2 centre = points.Aggregate((p, q) => p + q) / points.Length;
        double spread = Math.Sqrt(points.Average(p => (p - centre).LengthSquared));
        return (centre, 1 / spread);
    }

    private static Vec2 In((Vec2 Centre, double Scale) frame, Vec2 p) => (p - frame.Centre) * frame.Scale;
}
