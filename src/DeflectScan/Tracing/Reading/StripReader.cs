using DeflectScan.Calibration;
using OpenCvSharp;

namespace DeflectScan.Tracing.Reading;

/// <summary>The trained network on the strip beside the blank: what stands where, how surely. It recognises and does not measure.</summary>
internal static class StripReader
{
    internal static readonly TrainedNet Reader = new("reader.onnx", "heat", "lines", "side");

    /// <summary>Reads the strip beside a traced blank.</summary>
    public static StripReading Read(Mat photoBgr, RodPlane plane, BlankAxis axis)
    {
        StripFrame frame = StripFrame.Of(axis);
        using Mat strip = ReadingStrip.Sample(photoBgr, plane, axis, frame);
        return Read(strip, frame);
    }

    /// <summary>Reads the strip of a reading again, more thoroughly.</summary>
    public static StripReading ReadAgain(Mat photoBgr, RodPlane plane, BlankAxis axis, StripReading first)
    {
        using Mat strip = ReadingStrip.Sample(photoBgr, plane, axis, first.Frame);
        return SecondLook.Of(strip, first);
    }

    /// <summary>Reads a strip.</summary>
    /// <param name="strip">8-bit BGR of the frame's size.</param>
    /// <param name="frame">Where its pixels lie.</param>
    public static StripReading Read(Mat strip, StripFrame frame)
    {
        ReadingMap[][] read = Reader.Run(strip);
        ReadingMap[] heat = read[0];
        return new StripReading(frame, heat[0], heat[1], heat[2], heat[4], read[1][3], heat[5], heat[6], read[2][0].Values.Average());
    }
}
