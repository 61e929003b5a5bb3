using System.Reflection;
using DeflectScan.Calibration;
using OpenCvSharp;
using OpenCvSharp.Dnn;

namespace DeflectScan.Tracing.Reading;

/// <summary>
/// The trained network on the strip beside the blank: what stands where, how surely. It recognises and does not measure. docs/reader.md says how it was
/// trained; the weights are a resource of this assembly.
/// </summary>
internal static class StripReader
{
    private const string Weights = "DeflectScan.Reading.reader.onnx";
    private const double Middle = 127.5;
    private const double Scale = 64;
    private static readonly string[] Outputs = ["heat", "line", "side"];

    /// <summary>A loaded network keeps what it computes in itself: one at a time uses it.</summary>
    private static readonly Lock Turn = new();
    private static readonly Lazy<Net> Network = new(Load);

    /// <summary>Reads the strip beside a traced blank.</summary>
    public static StripReading Read(Mat photoBgr, RodPlane plane, BlankAxis axis)
    {
        StripFrame frame = StripFrame.Of(axis);
        using Mat strip = ReadingStrip.Sample(photoBgr, plane, axis, frame);
        return Read(strip, frame);
    }

    /// <summary>Reads a strip.</summary>
    /// <param name="strip">8-bit BGR of the frame's size.</param>
    /// <param name="frame">Where its pixels lie.</param>
    public static StripReading Read(Mat strip, StripFrame frame)
    {
        using Mat blob = CvDnn.BlobFromImage(strip, 1 / Scale, strip.Size(), new Scalar(Middle, Middle, Middle), swapRB: false, crop: false);
        Mat[] outputs = [.. Outputs.Select(_ => new Mat())];
        try
        {
            lock (Turn)
            {
                Network.Value.SetInput(blob);
                Network.Value.Forward(outputs, Outputs);
            }

            ReadingMap[] heat = Channels(outputs[0]);
            return new StripReading(frame, heat[0], heat[1], heat[2], heat[3], Channels(outputs[2])[0].Values.Average());
        }
        finally
        {
            foreach (Mat output in outputs)
                output.Dispose();
        }
    }

    private static unsafe ReadingMap[] Channels(Mat output)
    {
        (int channels, int rows, int columns) = (output.Size(1), output.Size(2), output.Size(3));
        ReadOnlySpan<float> all = new(output.DataPointer, channels * rows * columns);
        ReadingMap[] maps = new ReadingMap[channels];
        for (int c = 0; c < channels; c++)
            maps[c] = new ReadingMap(all.Slice(c * rows * columns, rows * columns).ToArray(), rows, columns);
        return maps;
    }

    private static Net Load()
    {
        using Stream stream = Assembly.GetExecutingAssembly().GetManifestResourceStream(Weights)!;
        using MemoryStream bytes = new();
        stream.CopyTo(bytes);
        return CvDnn.ReadNetFromOnnx(bytes.ToArray())!;
    }
}
