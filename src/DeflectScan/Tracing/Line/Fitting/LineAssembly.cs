using DeflectScan.Calibration;
using DeflectScan.Geometry;
using DeflectScan.Imaging;
using DeflectScan.Photos;
using DeflectScan.Tracing.Rings;

namespace DeflectScan.Tracing.Line;

/// <summary>From the line's way in the band to its corners on the photo.</summary>
internal static class LineAssembly
{
    private const int Passes = 3;

    /// <summary>How far the tip-top's contact is looked for about where it was read, standard uncertainties.</summary>
    private const double TipReachSds = 8;

    /// <summary>Least log-likelihood ratio of a line that was seen at all; lower, its rings are all that is known.</summary>
    private const double LeastScore = 60;

    /// <summary>The line's corners; null where the line was not seen.</summary>
    public static FittedLine? Fit(UprightPhoto photo, RodPlane plane, BlankAxis axis, RingChoice rings, SeenLine line, double insideSign, LineOptions options)
    {
        if (line.Colour is not { } colour || line.Path.Score < LeastScore)
            return null;
        double side = line.Strip.Side;
        SegmentSight sight = new(new PhotoSampler(photo.Bgr), plane, colour, axis, side, EdgeProfile.Measure(line.Strip, line.Path.Levels(line.Strip)));
        List<Vec2> points = [.. line.Path.Points];
        List<LineVertex> vertices = [.. line.Path.Vertices];
        double reach = Math.Min(options.TipSearchMm, TipReachSds * rings.Places[0].AlongSdMm);
        HangingLine? hang = HangSearch.Find(photo.Bgr, plane, colour, points[1], points[0], rings.Places[0].AlongSdMm, reach, line.Strip.StepMm);
        if (hang is not null)
        {
            points[0] = hang.ContactMm;
            points.Insert(0, hang.EndMm);
            vertices.Insert(0, LineVertex.End);
        }

        int tip = hang is null ? 0 : 1;
        int end = points.Count - 1;
        (PolylineSolution solution, List<LineWindow>[] windows) = LineFit.Refine(
            sight, points, Passes, i => (i == 0 && tip > 0) || i == end, LineVertex.Pulls(vertices, axis, insideSign, side), forReport: true);
        return new FittedLine(solution, windows, vertices, tip);
    }
}
