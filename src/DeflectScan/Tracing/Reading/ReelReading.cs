namespace DeflectScan.Tracing.Reading;

/// <summary>What the network says of a reel's picture: how likely there is a reel, and where its front then lies.</summary>
/// <param name="Probability">That there is a reel whose front lies in the picture.</param>
/// <param name="Station">Of the front, mean of what is said of it, mm from the axis' end at the tip.</param>
/// <param name="SpreadMm">Standard deviation of what is said of it, mm: wide where two places are likely.</param>
internal sealed record ReelReading(double Probability, double Station, double SpreadMm)
{
    /// <summary>Width of a cell, columns of the picture.</summary>
    private const int CellColumns = 2;

    /// <summary>From the network's logits: one for each cell of columns, one for no reel; their softmax is the distribution that it was taught.</summary>
    /// <param name="frame">Where the picture's pixels lie.</param>
    /// <param name="zoom">How many times as large it was read, about the middle of its axis.</param>
    /// <param name="front">By cell.</param>
    /// <param name="none">For no reel.</param>
    public static ReelReading Of(ReelPicture frame, double zoom, IReadOnlyList<float> front, float none)
    {
        double most = front.Max();
        double[] share = [.. front.Select(v => Math.Exp(v - most))];
        double sum = share.Sum();
        double mean = share.Select((p, i) => p * Middle(i)).Sum() / sum;
        double variance = share.Select((p, i) => p * (Middle(i) - mean) * (Middle(i) - mean)).Sum() / sum;
        return new ReelReading(1 / (1 + Math.Exp(none - most - Math.Log(sum))), frame.Station(((mean - ReelPicture.MiddleColumn) / zoom) + ReelPicture.MiddleColumn), Math.Sqrt(variance) / zoom);
    }

    /// <summary>Of several looks at one reel: their mean; how far they differ is part of the spread.</summary>
    public static ReelReading Mean(IReadOnlyList<ReelReading> looks)
    {
        double station = looks.Average(l => l.Station);
        double variance = looks.Average(l => (l.SpreadMm * l.SpreadMm) + ((l.Station - station) * (l.Station - station)));
        return new ReelReading(looks.Average(l => l.Probability), station, Math.Sqrt(variance));
    }

    private static double Middle(int cell) => (CellColumns * cell) + ((CellColumns - 1) / 2.0);
}
