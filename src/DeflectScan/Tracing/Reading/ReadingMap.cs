using OpenCvSharp;

namespace DeflectScan.Tracing.Reading;

/// <summary>One channel of what a network says of a picture, cell by cell.</summary>
/// <param name="Values">Row after row.</param>
/// <param name="Rows">Number of rows.</param>
/// <param name="Columns">Number of columns.</param>
internal sealed record ReadingMap(float[] Values, int Rows, int Columns)
{
    public float this[int row, int column] => Values[(row * Columns) + column];

    /// <summary>The channels of a network's output of 1 x channels x rows x columns.</summary>
    public static unsafe ReadingMap[] ChannelsOf(Mat output)
    {
        (int channels, int rows, int columns) = (output.Size(1), output.Size(2), output.Size(3));
        ReadOnlySpan<float> all = new(output.DataPointer, channels * rows * columns);
        ReadingMap[] maps = new ReadingMap[channels];
        for (int c = 0; c < channels; c++)
            maps[c] = new ReadingMap(all.Slice(c * rows * columns, rows * columns).ToArray(), rows, columns);
        return maps;
    }
}
