using OpenCvSharp;

namespace DeflectScan.Tracing.Reading;

/// <summary>
/// The network that the reel's front is read by: an earlier training of the strip's reader, on strips of 224 rows. The later one, which reads all else, learnt on
/// reels whose front is always round and takes a square one to reach some 25 mm farther than it does (docs/reader.md).
/// </summary>
internal static class ReelReader
{
    private const int Rows = 224;

    /// <summary>So much of the strip, from the reel's end on, is looked at, px: the handle's whole reach and as much again.</summary>
    public const int Columns = 512;

    internal static readonly TrainedNet Reader = new("reel.onnx", "heat");

    /// <summary>What a strip says of the reel; the other maps of the reading say nothing.</summary>
    /// <param name="strip">8-bit BGR of the frame's size; its upper rows are read.</param>
    /// <param name="frame">Where its pixels lie.</param>
    public static StripReading Read(Mat strip, StripFrame frame)
    {
        using Mat upper = strip.RowRange(0, Rows);
        using Mat part = upper.Clone();
        ReadingMap[] heat = Reader.Run(part)[0];
        ReadingMap none = new([], 0, 0);
        return new StripReading(frame, none, none, none, heat[3], none, none, heat[4], heat[5], 0);
    }
}
