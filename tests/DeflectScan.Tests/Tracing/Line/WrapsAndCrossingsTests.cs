using DeflectScan.Calibration;
using DeflectScan.Findings;
using DeflectScan.Geometry;
using DeflectScan.Measuring;
using DeflectScan.Photos;
using DeflectScan.Scenes;
using DeflectScan.Scenes.Rendering;
using DeflectScan.Tracing;
using DeflectScan.Tracing.Line;
using OpenCvSharp;

namespace DeflectScan.Tests.Tracing.Line;

/// <summary>What stands on the blank where the line does not turn: against the exact contacts of rendered scenes and photographs.</summary>
public class WrapsAndCrossingsTests
{
    private const double CrossingMm = 24;

    /// <summary>Thread of the blank's own colour shows by its thickness alone.</summary>
    [Fact]
    public void AStraightThroughGuideWithWrapsOfTheBlanksColourIsFound()
    {
        SceneOptions options = RandomScenes.Good(109, 0.35);
        (Truth truth, Outcome<LineTrace> outcome) = Traced(options with { WidthPx = 2160, HeightPx = 1620, WrapColour = options.BlankColour });
        Assert.InRange(truth.Guides[0].LineAngleDeg, -0.01, 0.01);
        Assert.Equal(truth.Guides.Count, outcome.Value!.Rings.Count);
        Assert.True(OffMm(truth, outcome.Value, 0) < 4);
    }

    /// <summary>Before a painting neither wraps nor feet stand out plainly: found, or a person is asked to look there.</summary>
    [Fact]
    [Trait(LongSet.Name, LongSet.Value)]
    public void AStraightThroughGuideBeforeAPictureIsNotPassedOverInSilence()
    {
        Scene scene = new(RandomScenes.Good(907, 7 / 23.0));
        TruthGuide first = scene.Truth.Guides[0];
        Assert.InRange(first.LineAngleDeg, -0.01, 0.01);
        string folder = Directory.CreateTempSubdirectory("deflectscan-wraps").FullName;
        try
        {
            scene.WriteTo(folder);
            Measurement measured = MeasurePipeline.Measure(Path.Combine(folder, "photo.jpg"), MeasureOptions.Default);
            Assert.True(measured.Guides.Count == scene.Truth.Guides.Count || measured.Findings.Any(f => f.Code == FindingCode.GuidesUncertain
                && Enumerable.Range(-40, 81).Any(d => f.Message.Contains($" {first.FromTipMm + d:0} mm", StringComparison.Ordinal))));
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    /// <summary>A lone wrap (a joint's, a mark) where a cable behind the rod crosses the line.</summary>
    [Fact]
    public void AWrapBesideACableIsNoGuide()
    {
        Truth truth = Repository.Truth("clean-spinning");
        BlankAxis axis = TruthAxis.Of(truth);
        using UprightPhoto photo = WithCable(truth, axis);
        Outcome<LineTrace> outcome = LineTracer.Trace(photo, truth.RodPlane(), axis, LineOptions.Default);
        Assert.DoesNotContain(outcome.Findings, f => f.Code == FindingCode.GuidesUncertain);
        Assert.Equal(truth.Guides.Count, outcome.Value!.Rings.Count);
    }

    /// <summary>A wrap halfway between the first two guides, and a straight cable that crosses behind the blank a little nearer the reel.</summary>
    private static UprightPhoto WithCable(Truth truth, BlankAxis axis)
    {
        RodPlane plane = truth.RodPlane();
        Vec2[] rings = [.. truth.Guides.Take(2).Select(g => plane.ToPlane(new Vec2(g.ContactPx[0], g.ContactPx[1])))];
        double middle = (axis.Curve.Nearest(rings[0]).S + axis.Curve.Nearest(rings[1]).S) / 2;
        double guides = Math.Sign(axis.Curve.Nearest(rings[0]).Offset);
        UprightPhoto photo = PhotoOpener.Open(Repository.Photo("clean-spinning"), PhotoLimits.Default).Value!;
        Point Px(double s, double h)
        {
            Vec2 p = plane.ToPhoto(axis.Curve.Point(s) + (axis.Curve.Normal(s) * (guides * h)));
            return new Point((int)Math.Round(p.X), (int)Math.Round(p.Y));
        }

        double r = axis.RadiusMm(middle);
        Cv2.FillConvexPoly(photo.Bgr, [Px(middle - 8, r + 0.4), Px(middle + 8, r + 0.4), Px(middle + 8, -r - 0.4), Px(middle - 8, -r - 0.4)], new Scalar(40, 40, 200), LineTypes.AntiAlias);
        int thick = (int)Math.Round(6 / truth.Camera.MmPerPxCentre);
        double foot = middle + CrossingMm;
        double past = r + 0.5 + (3 * Math.Sqrt(2));
        Cv2.Line(photo.Bgr, Px(foot - 60, -60), Px(foot - past, -past), new Scalar(30, 30, 150), thick, LineTypes.AntiAlias);
        Cv2.Line(photo.Bgr, Px(foot + past, past), Px(foot + 70, 70), new Scalar(30, 30, 150), thick, LineTypes.AntiAlias);
        return photo;
    }

    private static (Truth Truth, Outcome<LineTrace> Outcome) Traced(SceneOptions options)
    {
        Scene scene = new(options);
        string folder = Directory.CreateTempSubdirectory("deflectscan-wraps").FullName;
        try
        {
            scene.WriteTo(folder);
            using UprightPhoto photo = ScenePhoto.Open(folder);
            return (scene.Truth, LineTracer.Trace(photo, scene.Truth.RodPlane(), TruthAxis.Of(scene.Truth), LineOptions.Default));
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    private static double OffMm(Truth truth, LineTrace trace, int ring) =>
        trace.Rings[ring].ContactMm.DistanceTo(truth.RodPlane().ToPlane(new Vec2(truth.Guides[ring].ContactPx[0], truth.Guides[ring].ContactPx[1])));
}
