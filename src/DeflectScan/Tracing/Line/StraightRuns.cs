using DeflectScan.Geometry;

namespace DeflectScan.Tracing.Line;

/// <summary>A run of path points on one straight line.</summary>
/// <param name="First">Index of the first point.</param>
/// <param name="Last">Index of the last point.</param>
/// <param name="CentreMm">A point of the line.</param>
/// <param name="Direction">Unit direction from the tip towards the reel.</param>
internal readonly record struct StraightRun(int First, int Last, Vec2 CentreMm, Vec2 Direction)
{
    public Vec2 Project(Vec2 p) => CentreMm + (Direction * Direction.Dot(p - CentreMm));
}

/// <summary>
/// Cuts a path into straight runs: the fewest whose weighted squared residuals are in keeping with the points' noise, exactly, by
/// dynamic programming over all cuts (segmented least squares, Bellman 1961).
/// </summary>
internal static class StraightRuns
{
    public static List<StraightRun> Cut(IReadOnlyList<PathPoint> points, double costPerRun)
    {
        double[] weight = [.. points.Select(Weight)];
        List<StraightRun> runs = [];
        for (int pass = 0; pass < 3; pass++)
        {
            runs = CutOnce(points, weight, costPerRun);
            foreach (StraightRun run in runs)
            {
                for (int i = run.First; i <= run.Last; i++)
                {
                    double miss = run.Direction.Cross(points[i].PlaneMm - run.CentreMm) / (3.5 * points[i].SdMm);
                    weight[i] = Weight(points[i]) * Math.Pow(Math.Max(0, 1 - Math.Min(1, miss * miss / 4)), 2);
                }
            }
        }

        return runs;
    }

    private static double Weight(PathPoint p) => p.SdMm >= double.MaxValue ? 0 : 1 / (p.SdMm * p.SdMm);

    private static List<StraightRun> CutOnce(IReadOnlyList<PathPoint> points, double[] weight, double costPerRun)
    {
        int n = points.Count;
        Moments[] upTo = new Moments[n + 1];
        Vec2 origin = points[n / 2].PlaneMm;
        for (int i = 0; i < n; i++)
            upTo[i + 1] = upTo[i].With(points[i].PlaneMm - origin, weight[i]);
        double[] cost = new double[n + 1];
        int[] start = new int[n + 1];
        for (int end = 1; end <= n; end++)
        {
            cost[end] = double.MaxValue;
            for (int from = 0; from <= Math.Max(0, end - 3); from++)
            {
                double candidate = cost[from] + costPerRun + ((upTo[end] - upTo[from]).Residual);
                if (candidate < cost[end])
                    (cost[end], start[end]) = (candidate, from);
            }
        }

        List<StraightRun> runs = [];
        for (int end = n; end > 0; end = start[end])
        {
            Moments m = upTo[end] - upTo[start[end]];
            Vec2 direction = m.Direction;
            if (direction.Dot(points[end - 1].PlaneMm - points[start[end]].PlaneMm) < 0)
                direction = -direction;
            runs.Add(new StraightRun(start[end], end - 1, origin + m.Centre, direction));
        }

        runs.Reverse();
        return runs;
    }

    private readonly record struct Moments(double W, double X, double Y, double Xx, double Xy, double Yy)
    {
        public Vec2 Centre => W > 0 ? new(X / W, Y / W) : default;

        public double Residual
        {
            get
            {
                (double xx, double xy, double yy) = Central();
                return Math.Max(0, ((xx + yy) / 2) - Math.Sqrt(((xx - yy) * (xx - yy) / 4) + (xy * xy)));
            }
        }

        public Vec2 Direction
        {
            get
            {
                (double xx, double xy, double yy) = Central();
                double angle = 0.5 * Math.Atan2(2 * xy, xx - yy);
                return new Vec2(Math.Cos(angle), Math.Sin(angle));
            }
        }

        public Moments With(Vec2 p, double w) =>
            new(W + w, X + (w * p.X), Y + (w * p.Y), Xx + (w * p.X * p.X), Xy + (w * p.X * p.Y), Yy + (w * p.Y * p.Y));

        public static Moments operator -(Moments a, Moments b) =>
            new(a.W - b.W, a.X - b.X, a.Y - b.Y, a.Xx - b.Xx, a.Xy - b.Xy, a.Yy - b.Yy);

        private (double Xx, double Xy, double Yy) Central() => W > 0
            ? (Xx - (X * X / W), Xy - (X * Y / W), Yy - (Y * Y / W))
            : (0, 0, 0);
    }
}
