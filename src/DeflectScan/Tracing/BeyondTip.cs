using DeflectScan.Calibration;
using DeflectScan.Geometry;
using DeflectScan.Imaging;
using DeflectScan.Photos;
using DeflectScan.Tracing.Line;

namespace DeflectScan.Tracing;

/// <summary>
/// Whether a bar like the blank goes on beyond the end of its trace. A blank at rest is nearly straight there, so its way is known: narrow strips that leave
/// the tip at slightly different angles are compared with how the blank looks against its background just before the end.
/// </summary>
internal static class BeyondTip
{
    private const double BeforeMm = 80;
    private const double FromMm = 15; // a tip-top's tube and ring reach no further beyond the trace
    private const double ToMm = 200;
    private const double StretchMm = 40;
    private const double StepMm = 2;
    private const double Share = 0.75; // of a stretch
    private const double LikeShare = 0.4; // of the blank's own contrast: a thin tip fills less of its pixels
    private const double SteepestSlope = 0.03;
    private const double SlopeStep = 0.005;

    /// <param name="photo">Upright photo.</param>
    /// <param name="plane">The rod plane.</param>
    /// <param name="axis">The traced blank, tip first.</param>
    public static bool GoesOn(UprightPhoto photo, RodPlane plane, BlankAxis axis)
    {
        PhotoSampler sampler = new(photo.Bgr);
        Vec2 tip = axis.Curve.Point(0);
        Vec2 way = (tip - axis.Curve.Point(BeforeMm)).Normalized();
        double beside = Math.Max(axis.RadiusMm(0), axis.RadiusMm(BeforeMm)) + (3 * plane.MmPerPx(tip));
        if (Mean([.. Steps(-BeforeMm, -FromMm).Select(s => Contrast(axis.Curve.Point(-s), axis.Curve.Normal(-s)))]) is not { } own || own.Length() < 1)
            return false;
        for (double slope = -SteepestSlope; slope <= SteepestSlope + 1e-9; slope += SlopeStep)
        {
            Vec2 there = (way + (way.Perpendicular * slope)).Normalized();
            bool[] like = [.. Steps(FromMm, ToMm).Select(s => IsLike(Contrast(tip + (there * s), there.Perpendicular), own))];
            if (HasStretch(like))
                return true;
        }

        return false;

        // The middle against either side: the side that it differs less from, in luma, red-green and blue-yellow.
        (Colour Left, Colour Right)? Contrast(Vec2 at, Vec2 normal)
        {
            Vec2 middle = plane.ToPhoto(at);
            Vec2 left = plane.ToPhoto(at + (normal * beside));
            Vec2 right = plane.ToPhoto(at - (normal * beside));
            if (!sampler.Contains(middle, 3) || !sampler.Contains(left, 3) || !sampler.Contains(right, 3))
                return null;
            Colour here = Colour.Of(sampler.At(middle));
            return (here - Colour.Of(sampler.At(left)), here - Colour.Of(sampler.At(right)));
        }
    }

    private static IEnumerable<double> Steps(double from, double to)
    {
        for (double s = from; s < to; s += StepMm)
            yield return s;
    }

    private static Colour? Mean((Colour Left, Colour Right)?[] contrasts)
    {
        (Colour Left, Colour Right)[] known = [.. contrasts.OfType<(Colour, Colour)>()];
        return known.Length < 10 ? null : known.Aggregate(default(Colour), (sum, c) => sum + c.Left + c.Right) * (0.5 / known.Length);
    }

    private static bool IsLike((Colour Left, Colour Right)? contrast, Colour own) =>
        contrast is { } c && Math.Min(c.Left.Dot(own), c.Right.Dot(own)) > LikeShare * own.Dot(own);

    private static bool HasStretch(bool[] like)
    {
        const int Length = (int)(StretchMm / StepMm);
        for (int i = 0; i + Length <= like.Length; i++)
        {
            if (like.AsSpan(i, Length).Count(true) >= Share * Length)
                return true;
        }

        return false;
    }

    private readonly record struct Colour(double Luma, double RedGreen, double BlueYellow)
    {
        public static Colour Of((double Luma, double RedGreen, double BlueYellow) c) => new(c.Luma, c.RedGreen, c.BlueYellow);

        public static Colour operator +(Colour a, Colour b) => new(a.Luma + b.Luma, a.RedGreen + b.RedGreen, a.BlueYellow + b.BlueYellow);

        public static Colour operator -(Colour a, Colour b) => new(a.Luma - b.Luma, a.RedGreen - b.RedGreen, a.BlueYellow - b.BlueYellow);

        public static Colour operator *(Colour a, double factor) => new(a.Luma * factor, a.RedGreen * factor, a.BlueYellow * factor);

        public double Dot(Colour b) => (Luma * b.Luma) + (RedGreen * b.RedGreen) + (BlueYellow * b.BlueYellow);

        public double Length() => Math.Sqrt(Dot(this));
    }
}
