using DeflectScan.Calibration;
using DeflectScan.Geometry;
using DeflectScan.Imaging;
using DeflectScan.Photos;
using DeflectScan.Tracing;
using DeflectScan.Tracing.Line;
using MathNet.Numerics;

namespace DeflectScan.Checking;

/// <summary>How the blank shows in the photo.</summary>
/// <param name="StandsOutShare">Share of its length, 0 to 1, over which it differs from its background on both sides.</param>
/// <param name="TipPx">Its thickness at the tip, px.</param>
/// <param name="TipMmPerPx">Scale there.</param>
/// <param name="MarginPx">Least distance of the axis from the picture's border, px; the handle's last stretch left out.</param>
internal sealed record BlankLook(double StandsOutShare, double TipPx, double TipMmPerPx, double MarginPx)
{
    private const double StepMm = 8;

    public static BlankLook Of(UprightPhoto photo, RodPlane plane, BlankAxis axis, double leastContrast)
    {
        PhotoSampler sampler = new(photo.Bgr);
        double end = Math.Min(axis.HandleStationMm, axis.Curve.Length);
        int places = 0;
        int clear = 0;
        double margin = double.MaxValue;
        for (double s = StepMm; s < end - 20; s += StepMm)
        {
            Vec2 at = axis.Curve.Point(s);
            Vec2 px = plane.ToPhoto(at);
            margin = Math.Min(margin, Math.Min(Math.Min(px.X, px.Y), Math.Min(photo.Info.WidthPx - 1 - px.X, photo.Info.HeightPx - 1 - px.Y)));
            if (!sampler.Contains(px, 30))
                continue;
            places++;
            clear += StandsOut(sampler, plane, axis, s, leastContrast) ? 1 : 0;
        }

        double tipMm = plane.MmPerPx(axis.Curve.Point(0));
        return new BlankLook(places == 0 ? 0 : clear / (double)places, TipMm(axis) / tipMm, tipMm, margin);
    }

    /// <summary>Diameter at the tip by a straight line through the diameters near it, since a reduced picture tells a single one badly.</summary>
    private static double TipMm(BlankAxis axis)
    {
        const double NearMm = 400;
        double[] at = [.. axis.DiameterStations.TakeWhile(s => s <= axis.DiameterStations[0] + NearMm)];
        if (at.Length < 3)
            return axis.DiametersMm[0];
        (double intercept, double slope) = Fit.Line(at, [.. axis.DiametersMm.Take(at.Length)]);
        return Math.Max(0.5, intercept + (slope * at[0]));
    }

    private static bool StandsOut(PhotoSampler sampler, RodPlane plane, BlankAxis axis, double s, double least)
    {
        Vec2 at = axis.Curve.Point(s);
        Vec2 normal = axis.Curve.Normal(s);
        double px = plane.MmPerPx(at);
        double radius = axis.RadiusMm(s);
        return Differs(1) && Differs(-1);

        // The blank's own side, half way out, so that gloss along its middle does not count; the background some px beyond the edge.
        bool Differs(int side)
        {
            (double l, double c, double d) = sampler.At(plane.ToPhoto(at + (normal * (side * 0.4 * radius))));
            (double l2, double c2, double d2) = sampler.At(plane.ToPhoto(at + (normal * (side * (radius + (3 * px))))));
            return Math.Abs(l - l2) > least || Math.Abs(c - c2) > least || Math.Abs(d - d2) > least;
        }
    }
}
