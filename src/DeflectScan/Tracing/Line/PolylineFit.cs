using DeflectScan.Geometry;
using MathNet.Numerics.LinearAlgebra;
using MathNet.Numerics.LinearAlgebra.Factorization;

namespace DeflectScan.Tracing.Line;

/// <summary>One measured offset of the line from a polyline's segment.</summary>
/// <param name="Segment">Joins vertex Segment and the next.</param>
/// <param name="Fraction">Place along it.</param>
/// <param name="OffsetMm">Along the segment's left normal.</param>
/// <param name="SdMm">Standard deviation.</param>
internal readonly record struct OffsetSight(int Segment, double Fraction, double OffsetMm, double SdMm);

/// <summary>What is known of a vertex besides the line: its place along a direction.</summary>
internal readonly record struct VertexPull(int Vertex, Vec2 Direction, double OffsetMm, double SdMm);

/// <summary>A polyline moved to its measurements, and how well its vertices are known then.</summary>
/// <param name="Vertices">Rod-plane mm.</param>
/// <param name="Covariance">2n × 2n, mm², x and y of each vertex in turn; scaled by the residuals' spread where that is above 1.</param>
/// <param name="Spread">Robust residual over standard deviation, by segment.</param>
internal sealed record PolylineSolution(IReadOnlyList<Vec2> Vertices, Matrix<double> Covariance, IReadOnlyList<double> Spread);

/// <summary>
/// Least squares for a polyline's vertices from offsets of its segments: one linear step with Tukey's weights (Beaton and Tukey 1974).
/// Vertices are shared by their two segments, so the intersections and their covariance come out directly.
/// </summary>
internal static class PolylineFit
{
    private const double TukeyWidth = 4.7;
    private const int Passes = 5;

    /// <param name="vertices">Rod-plane mm.</param>
    /// <param name="sights">Measured offsets.</param>
    /// <param name="pulls">What else is known.</param>
    /// <param name="dampingMm">How far a vertex may go along a direction that nothing holds.</param>
    /// <param name="commonMm">By segment, standard deviation of an offset that all its sights share: light and background change from segment to segment.</param>
    public static PolylineSolution Step(
        IReadOnlyList<Vec2> vertices, IReadOnlyList<OffsetSight> sights, IReadOnlyList<VertexPull> pulls, double dampingMm, double[]? commonMm = null)
    {
        int n = vertices.Count;
        double[] spread = Spreads(n - 1, sights);
        double[] shift = new double[2 * n];
        Matrix<double> inverse = Matrix<double>.Build.Dense(2 * n, 2 * n);
        for (int pass = 0; pass < Passes; pass++)
        {
            Matrix<double> normal = Matrix<double>.Build.Dense(2 * n, 2 * n);
            double[] right = new double[2 * n];
            foreach (OffsetSight sight in sights)
                Add(vertices, sight, spread[sight.Segment], shift, normal, right);
            foreach (VertexPull pull in pulls)
                Add(normal, right, 2 * pull.Vertex, pull.Direction, pull.OffsetMm, 1 / (pull.SdMm * pull.SdMm));
            for (int i = 0; i < 2 * n; i++)
                normal[i, i] += 1 / (dampingMm * dampingMm);
            Cholesky<double> factors = normal.Cholesky();
            shift = factors.Solve(Vector<double>.Build.Dense(right)).AsArray();
            if (pass == Passes - 1)
                inverse = factors.Solve(Matrix<double>.Build.DenseIdentity(2 * n));
        }

        if (commonMm is not null)
            inverse += Common(vertices, sights, spread, shift, inverse, commonMm);
        return new PolylineSolution([.. vertices.Select((v, i) => v + new Vec2(shift[2 * i], shift[(2 * i) + 1]))], inverse, spread);
    }

    /// <summary>Robust cost of a polyline: residuals squared over variance, none above 25.</summary>
    public static double Cost(IReadOnlyList<OffsetSight> sights)
    {
        double sum = 0;
        foreach (OffsetSight s in sights)
            sum += Math.Min(25, s.OffsetMm * s.OffsetMm / (s.SdMm * s.SdMm));
        return sum;
    }

    /// <summary>What a common offset of each segment's sights adds to the covariance: its effect on the vertices, squared.</summary>
    private static Matrix<double> Common(
        IReadOnlyList<Vec2> vertices, IReadOnlyList<OffsetSight> sights, double[] spread, double[] shift, Matrix<double> inverse, double[] commonMm)
    {
        int n = 2 * vertices.Count;
        Matrix<double> added = Matrix<double>.Build.Dense(n, n);
        Matrix<double> unused = Matrix<double>.Build.Dense(n, n);
        foreach (IGrouping<int, OffsetSight> segment in sights.GroupBy(s => s.Segment))
        {
            // The same weights, right sides one unit apart.
            double[] withOffset = new double[n];
            double[] without = new double[n];
            foreach (OffsetSight sight in segment)
            {
                Add(vertices, sight, spread[sight.Segment], shift, unused, without);
                Add(vertices, sight, spread[sight.Segment], shift, unused, withOffset, 1);
            }

            Vector<double> effect = inverse * Vector<double>.Build.Dense([.. withOffset.Select((v, i) => (v - without[i]) * commonMm[segment.Key])]);
            added += effect.OuterProduct(effect);
        }

        return added;
    }

    private static void Add(
        IReadOnlyList<Vec2> vertices, OffsetSight sight, double spread, double[] shift, Matrix<double> normal, double[] right, double added = 0)
    {
        Vec2 n = (vertices[sight.Segment + 1] - vertices[sight.Segment]).Normalized().Perpendicular;
        int a = 2 * sight.Segment;
        Span<double> row = [n.X * (1 - sight.Fraction), n.Y * (1 - sight.Fraction), n.X * sight.Fraction, n.Y * sight.Fraction];
        double now = sight.OffsetMm;
        for (int i = 0; i < 4; i++)
            now -= row[i] * shift[a + i];
        double sd = sight.SdMm * Math.Max(1, spread);
        double size = Math.Abs(now) / (sd * TukeyWidth);
        if (size >= 1)
            return;
        double weight = Math.Pow(1 - (size * size), 2) / (sd * sd);
        for (int i = 0; i < 4; i++)
        {
            right[a + i] += weight * row[i] * (sight.OffsetMm + added);
            for (int j = 0; j < 4; j++)
                normal[a + i, a + j] += weight * row[i] * row[j];
        }
    }

    private static void Add(Matrix<double> normal, double[] right, int at, Vec2 direction, double offset, double weight)
    {
        Span<double> row = [direction.X, direction.Y];
        for (int i = 0; i < 2; i++)
        {
            right[at + i] += weight * row[i] * offset;
            for (int j = 0; j < 2; j++)
                normal[at + i, at + j] += weight * row[i] * row[j];
        }
    }

    /// <summary>Per segment, the median size of offset over standard deviation, about the segment's own robust line.</summary>
    private static double[] Spreads(int segments, IReadOnlyList<OffsetSight> sights)
    {
        double[] spread = new double[segments];
        Array.Fill(spread, 1);
        double[] sizes = new double[sights.Count];
        for (int segment = 0; segment < segments; segment++)
        {
            int n = 0;
            foreach (OffsetSight sight in sights)
            {
                if (sight.Segment == segment)
                    sizes[n++] = Math.Abs(sight.OffsetMm) / sight.SdMm;
            }

            if (n == 0)
                continue;
            Array.Sort(sizes, 0, n);
            spread[segment] = Math.Max(1, sizes[n / 2] / 0.6745);
        }

        return spread;
    }
}
