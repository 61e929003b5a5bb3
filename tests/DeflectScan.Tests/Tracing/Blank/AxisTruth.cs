using DeflectScan.Calibration;
using DeflectScan.Findings;
using DeflectScan.Geometry;
using DeflectScan.Photos;
using DeflectScan.Scenes;
using DeflectScan.Tracing;
using DeflectScan.Tracing.Blank;
using OpenCvSharp;

namespace DeflectScan.Tests.Tracing.Blank;

/// <summary>A test photo with its exact plane, and how far a traced axis lies from the exact one over the bare blank.</summary>
internal static class AxisTruth
{
    public static UprightPhoto Open(string name) => Wrap(Cv2.ImRead(Repository.Photo(name)));

    public static UprightPhoto Wrap(Mat bgr) =>
        new(new PhotoInfo("photo.jpg", "", bgr.Width, bgr.Height, 1, null, null, null, null, null, null, null), bgr);

    public static Outcome<BlankAxis> Trace(string name)
    {
        Truth truth = Repository.Truth(name);
        using UprightPhoto photo = Open(name);
        return AxisTracer.Trace(photo, truth.RodPlane(), new AxisOptions());
    }

    /// <summary>Perpendicular errors in px and diameter errors in mm at the truth's samples over the bare blank.</summary>
    /// <param name="axis">As traced in <paramref name="plane"/>.</param>
    /// <param name="truth">Exact shape, px of the photo as rendered.</param>
    /// <param name="plane">Plane of the traced photo.</param>
    /// <param name="toTraced">From the rendered photo's px to the traced photo's.</param>
    public static (double[] AxisPx, double[] DiameterMm) Errors(BlankAxis axis, Truth truth, RodPlane plane, Func<Vec2, Vec2> toTraced)
    {
        List<double> across = [];
        List<double> diameter = [];
        foreach (TruthSample sample in truth.Blank.Samples.Where(s => s.S >= truth.Blank.VisibleFromSMm))
        {
            Vec2 mm = plane.ToPlane(toTraced(new Vec2(sample.U, sample.V)));
            double s = axis.Curve.Nearest(mm).S;
            across.Add(plane.ToPhoto(axis.Curve.Point(s)).DistanceTo(plane.ToPhoto(mm)));
            diameter.Add(Math.Abs((2 * axis.RadiusMm(s)) - sample.DiameterMm));
        }

        return ([.. across.Order()], [.. diameter.Order()]);
    }

    public static double Share(double[] sorted, double share) => sorted[Math.Min(sorted.Length - 1, (int)(share * sorted.Length))];
}
