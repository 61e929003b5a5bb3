using DeflectScan.Geometry;

namespace DeflectScan.Tracing.Line;

/// <summary>A point of the line as one window shows it.</summary>
/// <param name="PlaneMm">Rod-plane mm.</param>
/// <param name="SdMm">Standard deviation across the line.</param>
internal readonly record struct LinePoint(Vec2 PlaneMm, double SdMm);

/// <summary>Moves a polyline onto the line in the photo, with all segments measured anew on the way.</summary>
internal static class LineFit
{
    /// <summary>Length beside a corner that is left out: ring, frame and their shadow lie there.</summary>
    public const double CornerSkipMm = 6;

    /// <summary>How far a vertex may go along a direction that nothing holds, mm.</summary>
    public const double DampingMm = 8;

    /// <summary>Least signal-to-noise of a window that says where the line is.</summary>
    private const double LeastEvidence = 2.5;

    /// <summary>Offset that a whole segment's sights have in common besides what all segments share, px: this and those below are from rendered photographs.</summary>
    private const double CommonPx = 0.005;

    /// <summary>
    /// The same where only the line's colour tells its place: JPEG moves colours by whole blocks, and a line along a row of them by the same all
    /// along; it falls with the square of the colour's share.
    /// </summary>
    private const double CommonColourPx = 0.8;

    /// <summary>The same where a window's evidence is 1: texture of the background that a faint line is taken for. It falls with the evidence's cube, and is no more than the second.</summary>
    private const double FaintPx = 22;
    private const double MostFaintPx = 0.25;
    private const double MostCommonPx = 1;

    /// <summary>
    /// How much of what a light from one side does to a segment is the segment's own. The rest its neighbours have alike, and what all have alike moves
    /// no ring along the blank.
    /// </summary>
    private const double LitOwnShare = 0.3;

    /// <summary>
    /// The same of a line along the photo's rows or columns: it lies at the same place within its pixels all along, and a thin line's place is
    /// biased by where in them it lies. A line that crosses some pixels averages it out.
    /// </summary>
    private const double LockedPx = 0.12;

    /// <summary>Measured windows as points of the line; what a window's scatter does not show is held at a twelfth of a pixel.</summary>
    public static List<LinePoint> Points(IReadOnlyList<Vec2> vertices, IReadOnlyList<LineWindow>[] windows, double pxMm)
    {
        List<LinePoint> points = [];
        for (int i = 0; i < windows.Length; i++)
        {
            Vec2 along = vertices[i + 1] - vertices[i];
            foreach (LineWindow w in windows[i])
            {
                if (w.Evidence < LeastEvidence || Math.Abs(w.OffsetMm) > 2 * pxMm)
                    continue;
                Vec2 at = vertices[i] + (along * w.Fraction) + (along.Normalized().Perpendicular * w.OffsetMm);
                points.Add(new LinePoint(at, Math.Sqrt((w.SdMm * w.SdMm) + (pxMm * pxMm / 144))));
            }
        }

        return points;
    }

    public static (PolylineSolution Solution, List<LineWindow>[] Windows) Refine(
        SegmentSight sight, IReadOnlyList<Vec2> vertices, int passes, Func<int, bool> isFreeEnd, Func<IReadOnlyList<Vec2>, IReadOnlyList<VertexPull>>? renew = null, bool forReport = false)
    {
        IReadOnlyList<Vec2> now = vertices;
        PolylineSolution? solution = null;
        List<LineWindow>[] windows = [];
        for (int pass = 0; pass < passes; pass++)
        {
            IReadOnlyList<Vec2> at = now;
            windows = new List<LineWindow>[at.Count - 1];
            Parallel.For(0, windows.Length, i =>
            {
                double length = at[i].DistanceTo(at[i + 1]);
                double skip = Math.Min(CornerSkipMm, length / 6);
                windows[i] = sight.Measure(at[i], at[i + 1], isFreeEnd(i) ? 0 : skip, isFreeEnd(i + 1) ? 0 : skip);
            });
            double[] doubt = [.. windows.Select(Doubt)];
            List<OffsetSight> sights = [.. windows.SelectMany((list, i) => list
                .Where(w => w.Evidence > LeastEvidence)
                .Select(w => new OffsetSight(i, w.Fraction, w.OffsetMm, (forReport ? w.NoiseSdMm : w.SdMm) * doubt[i], w.ColourShare)))];
            CommonError[]? common = forReport ? [.. doubt.Select((d, i) => Common(windows[i], sight.CrossedPx(at[i], at[i + 1]), d * sight.PxMm(at[i], at[i + 1])))] : null;
            solution = PolylineFit.Step(at, sights, renew is null ? [] : renew(at), DampingMm, common);
            now = solution.Vertices;
        }

        return (solution!, windows);
    }

    /// <summary>Standard deviation of what all windows of a segment have in common. Light is the same all along; texture, JPEG's blocks and pixels come and go.</summary>
    private static CommonError Common(List<LineWindow> windows, double crossedPx, double pxMm)
    {
        LineWindow[] seen = [.. windows.Where(w => w.Evidence > LeastEvidence)];
        if (seen.Length == 0)
            return new CommonError(MostCommonPx * pxMm, MostCommonPx * pxMm);
        double weights = seen.Sum(w => 1 / (w.SdMm * w.SdMm));
        double Mean(Func<LineWindow, double> of) => seen.Sum(w => of(w) / (w.SdMm * w.SdMm)) / weights;
        double evidence = LineDoubts.UsualEvidence(windows);
        double faint = Math.Min(MostFaintPx, FaintPx / (evidence * evidence * evidence));
        double colour = CommonColourPx * Math.Pow(Mean(w => w.ColourShare), 2);
        double lit = LitOwnShare * Mean(w => w.LitSdPx);
        double locked = LockedPx / Math.Max(1, crossedPx);
        double texture = Math.Min(MostCommonPx, Math.Sqrt((faint * faint) + (colour * colour) + (locked * locked)));
        return new CommonError(Math.Sqrt((CommonPx * CommonPx) + (texture * texture) + (lit * lit)) * pxMm, texture * pxMm);
    }

    /// <summary>
    /// 1 where the line was seen in most windows of a segment; more where only in some, which may then be chance: specks and edges of the
    /// background that happened to look like the line.
    /// </summary>
    private static double Doubt(List<LineWindow> windows)
    {
        double seen = windows.Count == 0 ? 0 : windows.Count(w => w.Evidence > LeastEvidence) / (double)windows.Count;
        return 1 + (8 * Math.Max(0, 0.65 - seen));
    }
}
