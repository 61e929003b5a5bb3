using DeflectScan.Geometry;
using MathNet.Numerics.LinearAlgebra;
using MathNet.Numerics.LinearAlgebra.Factorization;

namespace DeflectScan.Tracing.Line;

/// <summary>One measured offset of the line from a polyline's segment.</summary>
/// <param name="Segment">Joins vertex Segment and the next.</param>
/// <param name="Fraction">Place along it.</param>
/// <param name="OffsetMm">Along the segment's left normal.</param>
/// <param name="SdMm">Standard deviation.</param>
/// <param name="SharedShare">How much of it, 0 to 1, neighbours have alike, so that the scatter does not show it.</param>
internal readonly record struct OffsetSight(int Segment, double Fraction, double OffsetMm, double SdMm, double SharedShare = 0);

/// <summary>Standard deviations of what the sights of a segment have in common, mm.</summary>
/// <param name="OffsetMm">An offset.</param>
/// <param name="SlopeMm">One that grows along the segment from its negative to itself, times the root of 3, so that it counts as much as the other.</param>
internal readonly record struct CommonError(double OffsetMm, double SlopeMm);

/// <summary>What is known of a vertex besides the line: its place along a direction.</summary>
internal readonly record struct VertexPull(int Vertex, Vec2 Direction, double OffsetMm, double SdMm)
{
    /// <summary>
    /// Whether the place is known but for an offset that it has in common with all such places: looks compared with each other tell how
    /// far the rings stand from one another, not where on a guide the line touches its ring.
    /// </summary>
    public bool SharesOffset { get; init; }
}

/// <summary>A polyline moved to its measurements, and how well its vertices are known then.</summary>
/// <param name="Vertices">Rod-plane mm.</param>
/// <param name="Covariance">2n × 2n, mm², x and y of each vertex in turn; scaled by the residuals' spread.</param>
/// <param name="Spread">Robust residual over standard deviation, by segment.</param>
internal sealed record PolylineSolution(IReadOnlyList<Vec2> Vertices, Matrix<double> Covariance, IReadOnlyList<double> Spread);

/// <summary>
/// Least squares for a polyline's vertices from offsets of its segments: one linear step with Tukey's weights (Beaton and Tukey 1974).
/// Vertices are shared by their two segments, so the intersections and their covariance come out directly. Errors that several measurements
/// have in common are unknowns of their own, held at nothing by their standard deviation (generalised least squares).
/// </summary>
internal static class PolylineFit
{
    private const double TukeyWidth = 4.7;
    private const int Passes = 5;

    /// <summary>Standard deviation of the offset that looks share, mm: as good as free.</summary>
    private const double SharedOffsetSdMm = 3;

    private const double LeastCommonMm = 1e-4;

    /// <param name="vertices">Rod-plane mm.</param>
    /// <param name="sights">Measured offsets.</param>
    /// <param name="pulls">What else is known.</param>
    /// <param name="dampingMm">How far a vertex may go along a direction that nothing holds.</param>
    /// <param name="commons">
    /// By segment, what all its sights share: light and background change from segment to segment. Null: nothing,
    /// and a scatter smaller than stated is not taken for one.
    /// </param>
    public static PolylineSolution Step(
        IReadOnlyList<Vec2> vertices, IReadOnlyList<OffsetSight> sights, IReadOnlyList<VertexPull> pulls, double dampingMm, IReadOnlyList<CommonError>? commons = null)
    {
        int n = vertices.Count;
        double[] spread = commons is null ? SightSpread.AtLeastOne(n - 1, sights) : SightSpread.OfEach(n - 1, sights);
        int common = 2 * n;
        int looks = common + (2 * (commons?.Count ?? 0));
        int unknowns = looks + 1;
        double[] shift = new double[unknowns];
        Matrix<double> inverse = Matrix<double>.Build.Dense(unknowns, unknowns);
        for (int pass = 0; pass < Passes; pass++)
        {
            Matrix<double> normal = Matrix<double>.Build.Dense(unknowns, unknowns);
            double[] right = new double[unknowns];
            foreach (OffsetSight sight in sights)
                Add(vertices, sight, spread[sight.Segment], commons is null ? null : common + (2 * sight.Segment), shift, normal, right);
            foreach (VertexPull pull in pulls)
                Add(pull, pull.SharesOffset ? looks : null, normal, right);
            for (int i = 0; i < common; i++)
                normal[i, i] += 1 / (dampingMm * dampingMm);
            for (int i = common; i < looks; i++)
            {
                CommonError of = commons![(i - common) / 2];
                normal[i, i] += 1 / Math.Pow(Math.Max(LeastCommonMm, (i - common) % 2 == 0 ? of.OffsetMm : of.SlopeMm), 2);
            }

            normal[looks, looks] += 1 / (SharedOffsetSdMm * SharedOffsetSdMm);
            Cholesky<double> factors = normal.Cholesky();
            shift = factors.Solve(Vector<double>.Build.Dense(right)).AsArray();
            if (pass == Passes - 1)
                inverse = factors.Solve(Matrix<double>.Build.DenseIdentity(unknowns));
        }

        return new PolylineSolution([.. vertices.Select((v, i) => v + new Vec2(shift[2 * i], shift[(2 * i) + 1]))], inverse.SubMatrix(0, common, 0, common), spread);
    }

    private static void Add(
        IReadOnlyList<Vec2> vertices, OffsetSight sight, double spread, int? common, double[] shift, Matrix<double> normal, double[] right)
    {
        Vec2 n = (vertices[sight.Segment + 1] - vertices[sight.Segment]).Normalized().Perpendicular;
        int a = 2 * sight.Segment;
        Span<int> at = [a, a + 1, a + 2, a + 3, common ?? a, (common + 1) ?? a];
        Span<double> row = [n.X * (1 - sight.Fraction), n.Y * (1 - sight.Fraction), n.X * sight.Fraction, n.Y * sight.Fraction, 1, Math.Sqrt(3) * ((2 * sight.Fraction) - 1)];
        int terms = common is null ? 4 : 6;
        double left = sight.OffsetMm;
        for (int i = 0; i < terms; i++)
            left -= row[i] * shift[at[i]];
        double size = Math.Abs(left) / (sight.SdMm * Math.Max(1, spread) * TukeyWidth);
        if (size >= 1)
            return;
        double weight = Math.Pow((1 - (size * size)) / (sight.SdMm * spread), 2);
        Add(at[..terms], row[..terms], sight.OffsetMm, weight, normal, right);
    }

    private static void Add(VertexPull pull, int? shared, Matrix<double> normal, double[] right)
    {
        int a = 2 * pull.Vertex;
        int terms = shared is null ? 2 : 3;
        Span<int> at = [a, a + 1, shared ?? a];
        Span<double> row = [pull.Direction.X, pull.Direction.Y, 1];
        Add(at[..terms], row[..terms], pull.OffsetMm, 1 / (pull.SdMm * pull.SdMm), normal, right);
    }

    private static void Add(ReadOnlySpan<int> at, ReadOnlySpan<double> row, double value, double weight, Matrix<double> normal, double[] right)
    {
        for (int i = 0; i < at.Length; i++)
        {
            right[at[i]] += weight * row[i] * value;
            for (int j = 0; j < at.Length; j++)
                normal[at[i], at[j]] += weight * row[i] * row[j];
        }
    }
}
