using System.Text.Json;
using DeflectScan.Calibration;
using DeflectScan.Geometry;
using DeflectScan.Scenes;
using DeflectScan.Scenes.Rendering;
using DeflectScan.Tracing;
using DeflectScan.Tracing.Reading;
using OpenCvSharp;

namespace DeflectScan.Training;

/// <summary>One handle as the reel's network sees it: NAME-reel.jpg and NAME.json with the column of the reel's front.</summary>
internal static class ReelLesson
{
    private const int Quality = 95;

    /// <summary>So many rows more, px: what a phone does to a pixel reaches so far (chosen).</summary>
    private const int AboutPx = 60;

    /// <summary>Draws no more of a scene than the rows about its handle.</summary>
    public static void Write(string path, Scene scene, Random chance)
    {
        Truth truth = scene.Truth;
        RodPlane plane = truth.RodPlane();
        BlankAxis axis = Lesson.Axis(truth, Lesson.Exact(truth), chance);
        double sign = StripFrame.Of(axis).InsideSign;
        double[] rows = [.. ReelPicture.Corners(axis, sign).Select(p => plane.ToPhoto(p).Y)];
        Write(path, scene.RenderJpeg(rows.Min() - AboutPx, rows.Max() + AboutPx), truth, plane, axis, sign);
    }

    public static void Write(string path, byte[] jpeg, Truth truth, Random chance)
    {
        BlankAxis axis = Lesson.Axis(truth, Lesson.Exact(truth), chance);
        Write(path, jpeg, truth, truth.RodPlane(), axis, StripFrame.Of(axis).InsideSign);
    }

    private static void Write(string path, byte[] jpeg, Truth truth, RodPlane plane, BlankAxis axis, double insideSign)
    {
        double s = truth.Blank.ReelFrontSMm;
        bool isSeen = !(truth.Hidden ?? []).Any(h => s > h[0] - 5 && s < h[1] + 5);
        Vec2 front = plane.ToPhoto(axis.Curve.Point(truth.Blank.LengthMm - s));
        if (truth.Reel is not "none" && (!isSeen || front.X < 0 || front.Y < 0 || front.X > truth.Image.Displayed[0] - 1 || front.Y > truth.Image.Displayed[1] - 1))
            return;
        using Mat photo = Cv2.ImDecode(jpeg, ImreadModes.Color);
        using Mat picture = ReelPicture.Sample(photo, plane, axis, insideSign);
        Cv2.ImWrite(path + "-reel.jpg", picture, [(int)ImwriteFlags.JpegQuality, Quality]);
        File.WriteAllText(path + ".json", JsonSerializer.Serialize(new
        {
            reel = truth.Reel is "none" ? (double?)null : ReelPicture.ColumnOf(axis, truth.Blank.LengthMm - s),
            slope = ReelPicture.ViewSlope(plane, axis),
            mm_per_px = truth.Camera.MmPerPxCentre,
        }));
    }
}
