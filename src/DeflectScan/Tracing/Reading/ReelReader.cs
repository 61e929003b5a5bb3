using DeflectScan.Calibration;
using OpenCvSharp;

namespace DeflectScan.Tracing.Reading;

/// <summary>The trained network on the picture of the reel (<see cref="ReelPicture"/>). It recognises the front and says how sure it is (docs/reader.md).</summary>
internal static class ReelReader
{
    /// <summary>As far as the lessons were scaled at random, and no farther (a fifth of their size and more).</summary>
    private static readonly double[] Zooms = [0.85, 1, 1.18];

    private static readonly TrainedNet Reader = new("reel.onnx", "front", "none");

    /// <summary>Reads the reel beside a traced blank.</summary>
    public static ReelReading Read(Mat photoBgr, RodPlane plane, BlankAxis axis)
    {
        using Mat picture = ReelPicture.Sample(photoBgr, plane, axis, out ReelPicture frame);
        return Read(picture, frame);
    }

    /// <summary>Reads a picture, at each of <see cref="Zooms"/>: where the network takes something else for the front, it takes another thing at another size.</summary>
    /// <param name="picture">8-bit BGR of <see cref="ReelPicture.Rows"/> by <see cref="ReelPicture.Columns"/>.</param>
    /// <param name="frame">Where its pixels lie.</param>
    public static ReelReading Read(Mat picture, ReelPicture frame) => ReelReading.Mean([.. Zooms.Select(zoom => Read(picture, frame, zoom))]);

    private static ReelReading Read(Mat picture, ReelPicture frame, double zoom)
    {
        // About the axis' middle, which stays where it is.
        using Mat map = Mat.FromPixelData(2, 3, MatType.CV_64FC1, new[] { zoom, 0, ReelPicture.MiddleColumn * (1 - zoom), 0, zoom, ReelPicture.AxisRow * (1 - zoom) });
        using Mat zoomed = new();
        Cv2.WarpAffine(picture, zoomed, map, picture.Size(), InterpolationFlags.Linear, BorderTypes.Replicate);
        ReadingMap[][] read = Reader.Run(zoomed);
        return ReelReading.Of(frame, zoom, read[0][0].Values, read[1][0].Values[0]);
    }
}
