using DeflectScan.Calibration;
using DeflectScan.Findings;
using DeflectScan.Geometry;
using DeflectScan.Photos;
using MathNet.Numerics.LinearAlgebra;

namespace DeflectScan.Tracing.Line;

/// <summary>From the path in the band to ring points on the photo.</summary>
internal static class LineAssembly
{
    public static Outcome<LineTrace> Complete(UprightPhoto photo, RodPlane plane, BlankAxis axis, BandTrace band, LineOptions options)
    {
        List<Finding> findings = [];
        double turnSign = Math.Sign(axis.Curve.Tangent(0).Cross(axis.Curve.Tangent(axis.Curve.Length)));
        List<PathPoint> points = PathPoints.Sharpen(band.Map, band.Evidence, band.Path);
        double pointSd = 0.25 * band.Strip.StepMm;
        List<Vec2> corners = new PolylineChoice(points, turnSign, pointSd).Choose(StraightRuns.Cut(points, pointSd, costPerRun: 25));
        SegmentSight sight = new(new PhotoSampler(photo.Bgr), plane, band.Colour);

        // From the tip to the reel: corners[0] is where the path starts, the last one where it was lost.
        (PolylineSolution first, _) = LineFit.Refine(sight, corners, i => i == 0 || i == corners.Count - 1, []);
        List<Vec2> line = [.. first.Vertices];
        Vec2 tipEnd = axis.Curve.Point(0);
        Vec2 ahead = (line[0] - line[1]).Normalized();
        Vec2 nearTip = line[1] + (ahead * ahead.Dot(tipEnd - line[1]));
        HangingLine? hang = HangSearch.Find(photo.Bgr, plane, band.Colour, line[1], nearTip, options.TipSearchMm, band.Strip.StepMm);
        line[0] = hang?.ContactMm ?? nearTip;
        if (hang is not null)
            line.Insert(0, hang.EndMm);
        (PolylineSolution solution, List<LineWindow>[] windows) = LineFit.Refine(sight, line, i => (hang is not null && i == 0) || i == line.Count - 1, []);
        List<RingSighting> rings = [];
        int tip = hang is null ? 0 : 1;
        for (int i = solution.Vertices.Count - 2; i >= tip; i--)
            rings.Add(Ring(axis, solution, i, i == tip));
        if (hang is null)
            findings.Add(Finding.Review(FindingCode.LineNotSeen, "The line that hangs from the tip-top was not seen: check the tip-top's ring point."));
        Source[] segments = new Source[rings.Count - 1];
        for (int k = 0; k < segments.Length; k++)
            segments[k] = Seen(windows[solution.Vertices.Count - 3 - k]) ? Source.Traced : Source.Inferred;
        return Outcome<LineTrace>.Of(
            new LineTrace(band.Side, rings, segments, solution.Vertices[^1], hang is null ? null : solution.Vertices[0]), findings);
    }

    private static bool Seen(List<LineWindow> windows) =>
        windows.Count > 0 && windows.Sum(w => w.Evidence) / Math.Sqrt(windows.Count) > 5;

    private static RingSighting Ring(BlankAxis axis, PolylineSolution solution, int vertex, bool isTip)
    {
        Vec2 at = solution.Vertices[vertex];
        Vec2 along = axis.Curve.Tangent(axis.Curve.Nearest(at).S);
        Vec2 across = along.Perpendicular;
        Matrix<double> c = solution.Covariance.SubMatrix(2 * vertex, 2, 2 * vertex, 2);
        double Variance(Vec2 d) => (d.X * d.X * c[0, 0]) + (2 * d.X * d.Y * c[0, 1]) + (d.Y * d.Y * c[1, 1]);
        return new RingSighting(at, Math.Sqrt(Variance(along)), Math.Sqrt(Variance(across)), null, isTip, Source.Traced);
    }
}
