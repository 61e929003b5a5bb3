using DeflectScan.Calibration;
using DeflectScan.Geometry;
using DeflectScan.Photos;
using DeflectScan.Tracing;
using OpenCvSharp;

namespace DeflectScan.Scenes;

/// <summary>A test photo seen in a mirror, with its exact plane, axis and measurement: a rod that points left. For pictures, not for finding cards.</summary>
public sealed record MirroredScene(UprightPhoto Photo, RodPlane Plane, BlankAxis Axis, Measurement Measurement) : IDisposable
{
    public static MirroredScene Of(string name)
    {
        using UprightPhoto photo = ScenePhoto.Open(Path.Combine(Repository.TestImages, name));
        Mat flipped = new();
        Cv2.Flip(photo.Bgr, flipped, FlipMode.Y);
        Truth truth = Repository.Truth(name);
        double last = flipped.Cols - 1;
        Vec2 Px(Vec2 p) => new(last - p.X, p.Y);
        Measurement m = TruthMeasurement.From(truth, photo.Info);
        BlankAxis axis = TruthMeasurement.Axis(truth);
        return new MirroredScene(
            new UprightPhoto(photo.Info, flipped),
            Mirror(truth, last),
            axis with { Curve = ArcCurve.Through([.. axis.Curve.Knots.Select(p => new Vec2(-p.X, p.Y))]) },
            m with
            {
                Calibration = m.Calibration! with
                {
                    Cards = [.. m.Calibration.Cards.Select(c => c with { OutlinePx = [.. c.OutlinePx.Select(Px)] })],
                },
                Blank = m.Blank! with { Axis = [.. m.Blank.Axis.Select(a => a with { Px = Px(a.Px), Mm = new Vec2(-a.Mm.X, a.Mm.Y) })] },
                Guides = [.. m.Guides.Select(g => g with { RingPx = Px(g.RingPx) })],
                Line = m.Line! with { VerticesPx = [.. m.Line.VerticesPx.Select(Px)] },
                Suggestion = m.Suggestion! with { Layout = [.. m.Suggestion.Layout.Select(g => g with { RingPx = Px(g.RingPx) })] },
            });
    }

    public void Dispose() => Photo.Dispose();

    /// <summary>The plane in the mirror: x changes its sign in the plane and in the photo, and with it the second tangential term.</summary>
    private static RodPlane Mirror(Truth truth, double last)
    {
        double[][] r = truth.Camera.R;
        double[] h =
        [
            r[0][0], -r[0][1], -truth.Camera.T[0],
            -r[1][0], r[1][1], truth.Camera.T[1],
            -r[2][0], r[2][1], truth.Camera.T[2],
        ];
        CameraModel c = truth.RodPlane().Camera;
        return new RodPlane(c with { PrincipalPx = new Vec2(last - c.PrincipalPx.X, c.PrincipalPx.Y), P2 = -c.P2 }, h);
    }
}
