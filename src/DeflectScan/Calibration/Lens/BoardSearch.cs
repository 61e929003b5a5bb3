using DeflectScan.Calibration.Cards;
using DeflectScan.Geometry;
using DeflectScan.Photos;
using OpenCvSharp;

namespace DeflectScan.Calibration.Lens;

/// <summary>Finds the boards in one photo: every scale card, or one chessboard; corners measured by symmetry on the full picture.</summary>
internal static class BoardSearch
{
    /// <summary>The chessboard is looked for in a picture no larger than this along its longer side; its corners are measured on the full one.</summary>
    private const double SearchSidePx = 1600;

    /// <summary>Share of the board's corners that must be measured.</summary>
    private const double LeastShare = 0.8;

    /// <summary>The views; empty where no board is seen or the picture is mirrored.</summary>
    /// <param name="photo">Upright photo.</param>
    /// <param name="board">The chessboard, or null for scale cards.</param>
    public static IReadOnlyList<BoardView> Find(UprightPhoto photo, BoardPattern? board)
    {
        if (SensorFrame.Of(photo.Info) is not { } sensor)
            return [];
        string name = photo.Info.FileName;
        if (board is not null)
            return Chessboard(photo.Grey, board) is { } view ? [new BoardView(name, view.Mm, [.. view.Px.Select(sensor.FromUpright)])] : [];
        return
        [
            .. CardFinder.Find(photo).Where(c => c.Corners.Count >= ScaleCard.InnerCorners / 2).Select(c => new BoardView(
                name,
                [.. c.Corners.Select(k => PlaneProblem.InCardMm(ScaleCard.InnerCornerMm(k.Index), 1))],
                [.. c.Corners.Select(k => sensor.FromUpright(k.Px))])),
        ];
    }

    private static (Vec2[] Mm, Vec2[] Px)? Chessboard(Mat grey, BoardPattern board)
    {
        double reduce = Math.Max(1, Math.Max(grey.Width, grey.Height) / SearchSidePx);
        using Mat small = new();
        if (reduce > 1)
            Cv2.Resize(grey, small, new Size(), 1 / reduce, 1 / reduce, InterpolationFlags.Area);
        if (!Cv2.FindChessboardCorners(reduce > 1 ? small : grey, new Size(board.Columns, board.Rows), out Point2f[] rough) || rough.Length != board.Corners)
            return null;
        Vec2[] start = [.. rough.Select(p => new Vec2(((p.X + 0.5) * reduce) - 0.5, ((p.Y + 0.5) * reduce) - 0.5))];
        double squarePx = Enumerable.Range(0, start.Length).Where(i => i % board.Columns > 0).Min(i => start[i].DistanceTo(start[i - 1]));
        double reach = Math.Max(4, 0.3 * squarePx);
        List<Vec2> mm = [];
        List<Vec2> px = [];
        for (int i = 0; i < start.Length; i++)
        {
            if (SaddleFit.Near(grey, start[i], Math.Max(4, 0.4 * squarePx), reach) is not { } saddle)
                continue;
            mm.Add(board.PointsMm[i]);
            px.Add(saddle.Px);
        }

        return px.Count >= LeastShare * start.Length ? ([.. mm], [.. px]) : null;
    }
}
