using OpenCvSharp;

namespace DeflectScan.Tracing.Reading;

/// <summary>Where the reel's front lies in a <see cref="ReelPicture"/>, as a network says it: a probability for each stretch along the blank, and one that there is no reel.</summary>
/// <param name="Column">Its mean, px.</param>
/// <param name="SdPx">Its standard deviation, px.</param>
/// <param name="None">Probability that there is no reel.</param>
internal sealed record ReelReader(double Column, double SdPx, double None)
{
    /// <summary>Columns of a stretch.</summary>
    private const int CellColumns = ReelPicture.Columns / Cells;
    private const int Cells = 96;

    internal static readonly TrainedNet Net = new("reel.onnx", "front");

    /// <summary>Reads a picture.</summary>
    public static ReelReader Read(Mat picture)
    {
        float[] scores = Net.Run(picture)[0][0].Values;
        double most = scores.Max();
        double[] share = [.. scores.Select(s => Math.Exp(s - most))];
        double all = share.Sum();
        double seen = share.Take(Cells).Sum();
        double Mean(Func<double, double> of) => Enumerable.Range(0, Cells).Sum(c => share[c] / seen * of(((c + 0.5) * CellColumns) - 0.5));
        double column = Mean(x => x);
        return new ReelReader(column, Math.Sqrt(Mean(x => (x - column) * (x - column))), share[Cells] / all);
    }
}
