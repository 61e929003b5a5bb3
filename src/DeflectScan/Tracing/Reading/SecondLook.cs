using OpenCvSharp;

namespace DeflectScan.Tracing.Reading;

/// <summary>
/// A strip read again a little smaller and a little larger: what the network says by chance of one sampling seldom repeats itself in the others, so the mean of
/// the log-odds is a better judge (predictions averaged over changed inputs; Krizhevsky, Sutskever and Hinton 2012, from memory). It takes two more runs of the
/// network, so only places in doubt are worth it.
/// </summary>
internal static class SecondLook
{
    /// <summary>Within the sizes that the network learnt from, far enough from 1 that its cells fall elsewhere (chosen; docs/reader.md says what they gain).</summary>
    private static readonly double[] Sizes = [0.93, 1.075];

    /// <summary>The mean of a reading and of those at other sizes. All but rings, tip-top and side stays as first read.</summary>
    /// <param name="strip">8-bit BGR of the first reading's frame.</param>
    /// <param name="first">What was read of it.</param>
    public static StripReading Of(Mat strip, StripReading first)
    {
        List<StripReading> read = [first];
        foreach (double size in Sizes)
            read.Add(Sized(strip, first, size));
        ReadingMap Mean(Func<StripReading, ReadingMap> of) =>
            new([.. of(first).Values.Select((_, i) => read.Average(r => of(r).Values[i])).Select(v => (float)v)], of(first).Rows, of(first).Columns);
        return first with
        {
            Ring = Mean(r => r.Ring),
            Tip = Mean(r => r.Tip),
            InsideLogOdds = read.Average(r => r.InsideLogOdds),
            IsSecond = true,
        };
    }

    // The strip is scaled about its left border and the axis, and what is said of it is laid back over the first reading's cells.
    private static StripReading Sized(Mat strip, StripReading first, double size)
    {
        double axis = StripFrame.RowOf(0);
        int columns = (int)Math.Ceiling(strip.Width * size / StripFrame.WidthStep) * StripFrame.WidthStep;
        using Mat to = About(size, axis, 0.5);
        using Mat sized = new();
        Cv2.WarpAffine(strip, sized, to, new Size(columns, strip.Height), InterpolationFlags.Linear, BorderTypes.Replicate);
        StripReading read = StripReader.Read(sized, first.Frame with { Columns = columns });
        using Mat back = About(size, ((axis + 0.5) / StripReading.CellRows) - 0.5, 0.5);
        ReadingMap Laid(ReadingMap map) => Back(map, back, first.Ring.Columns, first.Ring.Rows);
        return read with { Ring = Laid(read.Ring), Tip = Laid(read.Tip) };
    }

    // Middles of pixels lie half a pixel from their borders; the left border stays where it is, and so does one row.
    private static Mat About(double size, double row, double half) =>
        Mat.FromArray(new[,] { { size, 0, (size - 1) * half }, { 0, size, row * (1 - size) } });

    private static ReadingMap Back(ReadingMap map, Mat to, int columns, int rows)
    {
        using Mat said = Mat.FromPixelData(map.Rows, map.Columns, MatType.CV_32FC1, map.Values);
        using Mat laid = new();
        Cv2.WarpAffine(said, laid, to, new Size(columns, rows), InterpolationFlags.Linear | InterpolationFlags.WarpInverseMap, BorderTypes.Replicate);
        laid.GetArray(out float[] values);
        return new ReadingMap(values, rows, columns);
    }
}
