using DeflectScan.Findings;
using DeflectScan.Geometry;
using MathNet.Numerics.LinearAlgebra;

namespace DeflectScan.Tracing.Line;

/// <summary>Turns the fitted polyline into ring sightings and says what is doubtful.</summary>
internal static class RingReport
{
    private const double OnBlankMm = 1.2;

    public static Outcome<LineTrace> Make(
        BlankAxis axis, BandTrace band, LineOptions options, PolylineSolution solution, List<LineWindow>[] windows, GuideCensus census, int tip)
    {
        List<Finding> findings = [];
        List<RingSighting> rings = [];
        List<int> vertices = [];
        for (int i = solution.Vertices.Count - 2; i >= tip; i--)
        {
            (double s, double offset) = axis.Curve.Nearest(solution.Vertices[i]);
            if (i > tip && Math.Abs(offset) < axis.RadiusMm(s) + OnBlankMm)
                continue; // the line lies on the blank here
            (double along, double across) = Uncertainty(solution, i, axis.Curve.Tangent(s));
            rings.Add(new RingSighting(solution.Vertices[i], along, across, null, i == tip, Source.Traced));
            vertices.Add(i);
            if (census.Supports[i] is { IsUsual: false, Cover: < 0.5 })
                census.Doubts.Add(s);
        }

        Source[] segments = new Source[Math.Max(0, rings.Count - 1)];
        for (int k = 0; k < segments.Length; k++)
        {
            List<LineWindow> between = [.. Enumerable.Range(vertices[k + 1], vertices[k] - vertices[k + 1]).SelectMany(i => windows[i])];
            segments[k] = Seen(between) ? Source.Traced : Source.Inferred;
        }

        LineDoubts.Add(findings, band, census, windows, segments, tip);
        if (options.ExpectedGuides is { } expected && expected != rings.Count)
        {
            findings.Add(Finding.Review(
                FindingCode.GuidesUncertain, $"{rings.Count} rings were found with the tip-top, not {expected}: look at the overlay and mark the rings."));
        }

        return Outcome<LineTrace>.Of(
            new LineTrace(band.Side, rings, segments, solution.Vertices[^1], tip == 0 ? null : solution.Vertices[0]), findings);
    }

    /// <summary>Standard deviations of a vertex along and across a direction, mm.</summary>
    public static (double Along, double Across) Uncertainty(PolylineSolution solution, int vertex, Vec2 direction)
    {
        Matrix<double> c = solution.Covariance.SubMatrix(2 * vertex, 2, 2 * vertex, 2);
        double Sd(Vec2 d) => Math.Sqrt((d.X * d.X * c[0, 0]) + (2 * d.X * d.Y * c[0, 1]) + (d.Y * d.Y * c[1, 1]));
        return (Sd(direction), Sd(direction.Perpendicular));
    }

    private static bool Seen(List<LineWindow> windows) =>
        windows.Count > 0 && windows.Sum(w => w.Evidence) / Math.Sqrt(windows.Count) > 5;
}
