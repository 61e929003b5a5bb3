using DeflectScan.Geometry;
using OpenCvSharp;

namespace DeflectScan.Tracing.Reading;

/// <summary>The trained network on the whole photo: where the blank runs from its handle to its tip. It proposes; edges on the photo itself measure.</summary>
internal static class BlankReader
{
    private const int Cell = 4;

    /// <summary>The network halves both sides five times.</summary>
    private const int SideStep = 32;

    /// <summary>Ends are looked for among so many of the likeliest places, each at least this likely (log-odds: 3 %).</summary>
    private const int MostEnds = 3;
    private const float LeastEnd = -3.5f;

    /// <summary>Ends are so many cells apart.</summary>
    private const int EndsApart = 8;

    internal static readonly TrainedNet Finder = new("finder.onnx", "heat");

    /// <summary>The likeliest ways, the best first; none where nothing like a blank is seen.</summary>
    /// <param name="photoBgr">8-bit, upright.</param>
    /// <param name="mmPerPx">Its scale about its middle, in the rod plane.</param>
    public static IReadOnlyList<BlankProposal> Read(Mat photoBgr, double mmPerPx)
    {
        using Mat small = PhotoView.Reduced(photoBgr, mmPerPx, out double factor);
        using Mat whole = new();
        Cv2.CopyMakeBorder(small, whole, 0, Beyond(small.Rows), 0, Beyond(small.Cols), BorderTypes.Replicate);
        ReadingMap[] heat = Finder.Run(whole)[0];
        CellPaths paths = new(heat[0], (small.Rows + Cell - 1) / Cell, (small.Cols + Cell - 1) / Cell);
        List<(int Row, int Column)> tips = Ends(heat[2]);
        List<(int Row, int Column)> butts = Ends(heat[3]);
        List<BlankProposal> proposals = [];
        foreach ((int Row, int Column) butt in butts)
        {
            CellPaths.From from = paths.Start(butt);
            foreach ((int Row, int Column) tip in tips.Count > 0 ? tips : [from.Farthest()])
                Add(proposals, [.. from.To(tip)], heat, factor);
        }

        if (butts.Count == 0 && tips.Count > 0)
        {
            CellPaths.From from = paths.Start(tips[0]);
            Add(proposals, [.. from.To(from.Farthest()).Reverse()], heat, factor);
        }

        return [.. proposals.OrderByDescending(p => p.Likeliness)];
    }

    private static int Beyond(int side) => (SideStep - (side % SideStep)) % SideStep;

    private static List<(int Row, int Column)> Ends(ReadingMap map)
    {
        List<(int Row, int Column)> ends = [];
        foreach (int i in Enumerable.Range(0, map.Values.Length).Where(i => map.Values[i] > LeastEnd).OrderByDescending(i => map.Values[i]))
        {
            (int row, int column) = (i / map.Columns, i % map.Columns);
            if (ends.All(e => Math.Max(Math.Abs(e.Row - row), Math.Abs(e.Column - column)) > EndsApart))
                ends.Add((row, column));
            if (ends.Count == MostEnds)
                break;
        }

        return ends;
    }

    private static void Add(List<BlankProposal> proposals, IReadOnlyList<(int Row, int Column)> cells, ReadingMap[] heat, double factor)
    {
        if (cells.Count < 8)
            return;
        List<Vec2> points = [];
        foreach ((int r, int c) in cells)
        {
            // On the way over a stretch that does not look like blank its offsets say nothing.
            Vec2 cell = heat[0][r, c] > 0 ? new Vec2(c + heat[6][r, c], r + heat[7][r, c]) : new Vec2(c, r);
            points.Add((((cell + new Vec2(0.5, 0.5)) * Cell) * (1 / factor)) - new Vec2(0.5, 0.5));
        }

        double ends = CellPaths.LogProbability(heat[3][cells[0].Row, cells[0].Column]) + CellPaths.LogProbability(heat[2][cells[^1].Row, cells[^1].Column]);
        double[] weights = [.. cells.Select(c => Math.Exp(CellPaths.LogProbability(heat[0][c.Row, c.Column])))];
        proposals.Add(new BlankProposal(points, weights, cells.Average(c => CellPaths.LogProbability(heat[0][c.Row, c.Column])), ends));
    }
}
