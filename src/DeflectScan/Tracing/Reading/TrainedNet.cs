using System.Reflection;
using OpenCvSharp;
using OpenCvSharp.Dnn;

namespace DeflectScan.Tracing.Reading;

/// <summary>
/// A trained network among this assembly's resources, run by OpenCV on the processor. docs/reader.md says how each was trained. Loaded when first used;
/// one caller at a time, as a loaded network keeps what it computes in itself.
/// </summary>
/// <param name="file">Name of the weights.</param>
/// <param name="outputs">Names of what comes out.</param>
internal sealed class TrainedNet(string file, params string[] outputs)
{
    /// <summary>Grey values are brought to this middle and scale, as in training.</summary>
    private const double MiddleGrey = 127.5;
    private const double ScaleGrey = 64;

    private readonly Lock _turn = new();
    private readonly Lazy<Net> _net = new(() => Load(file));

    /// <summary>Loads it, where it is not loaded yet.</summary>
    public void Load() => _ = _net.Value;

    /// <summary>The channels of each output.</summary>
    /// <param name="bgr">8-bit picture of a size that the network takes.</param>
    public ReadingMap[][] Run(Mat bgr)
    {
        using Mat blob = CvDnn.BlobFromImage(bgr, 1 / ScaleGrey, bgr.Size(), new Scalar(MiddleGrey, MiddleGrey, MiddleGrey), swapRB: false, crop: false);
        Mat[] found = [.. outputs.Select(_ => new Mat())];
        try
        {
            lock (_turn)
            {
                _net.Value.SetInput(blob);
                _net.Value.Forward(found, outputs);
            }

            return [.. found.Select(ReadingMap.ChannelsOf)];
        }
        finally
        {
            foreach (Mat one in found)
                one.Dispose();
        }
    }

    // A resource lies in memory already: it is read where it is.
    private static unsafe Net Load(string file)
    {
        using UnmanagedMemoryStream weights = (UnmanagedMemoryStream)Assembly.GetExecutingAssembly().GetManifestResourceStream("DeflectScan.Reading." + file)!;
        return CvDnn.ReadNetFromOnnx(new ReadOnlySpan<byte>(weights.PositionPointer, (int)weights.Length))!;
    }
}
