using DeflectScan.Calibration;
using DeflectScan.Findings;
using DeflectScan.Geometry;
using DeflectScan.Photos;
using DeflectScan.Tracing.Line.Outside;

namespace DeflectScan.Tracing.Line;

/// <summary>From the path in the band to ring points on the photo.</summary>
internal sealed class LineAssembly
{
    private const double LookUpToMm = 50;

    /// <summary>How often the segments are measured anew while the corners are chosen, and once they are.</summary>
    private const int CoarsePasses = 2;
    private const int FinePasses = 3;

    /// <summary>So many windows of a segment, and more than this share of them, must show the line before its not turning says anything.</summary>
    private const int LeastWindows = 4;
    private const double WellSeenShare = 0.75;

    private readonly RodPlane _plane;
    private readonly BlankAxis _axis;
    private readonly BandTrace _band;
    private readonly LineOptions _options;
    private readonly SegmentSight _sight;
    private readonly UprightPhoto _photo;
    private readonly BlankClearance _clearance;
    private readonly double _turnSign;

    private LineAssembly(UprightPhoto photo, RodPlane plane, BlankAxis axis, BandTrace band, LineOptions options)
    {
        _photo = photo;
        _plane = plane;
        _axis = axis;
        _band = band;
        _options = options;
        _sight = new SegmentSight(new PhotoSampler(photo.Bgr), plane, band.Colour, axis, band.Strip.Side, EdgeProfile.Measure(band.Strip, band.Rings?.Path.Levels(band.Strip)));
        _clearance = new BlankClearance(axis, band.Strip.Side, band.Strip.Height(band.Strip.Levels - 1), band.Side == BendSide.Outside);
        _turnSign = Math.Sign(axis.Curve.Tangent(0).Cross(axis.Curve.Tangent(axis.Curve.Length)));
    }

    public static Outcome<LineTrace> Complete(UprightPhoto photo, RodPlane plane, BlankAxis axis, BandTrace band, LineOptions options) =>
        new LineAssembly(photo, plane, axis, band, options).Run();

    private Outcome<LineTrace> Run()
    {
        // From the tip to the reel: the first vertex is where the path starts, the last one where it was lost.
        List<Vec2> line = Corners();
        HangingLine? hang = Hang(line);
        double step = _band.Strip.StepMm;
        Vec2 ahead = (line[0] - line[1]).Normalized();
        SegmentEnd? end = hang is null ? LineEnd.Find(_photo.Bgr, _plane, _band.Colour, line[1], NearTip(line), _options.TipSearchMm, step) : null;
        line[0] = hang?.ContactMm ?? (end is { } seen ? line[1] + (ahead * seen.AlongMm) : NearTip(line));
        int tip = 0;
        if (hang is not null)
        {
            line.Insert(0, hang.EndMm);
            tip = 1;
        }

        (PolylineSolution solution, _) = LineFit.Refine(_sight, line, FinePasses, i => (i == 0 && tip > 0) || i == line.Count - 1);
        line = [.. solution.Vertices];

        RingSupport support = Support(solution, tip);
        GuideCensus census = GuideCensus.Take(_axis, support, line, tip, step);
        line = census.Line;
        (solution, List<LineWindow>[] windows) = LineFit.Refine(_sight, line, FinePasses, i => (i == 0 && tip > 0) || i == line.Count - 1, census.Pulls, forReport: true);
        return RingReport.Make(_photo, _plane, _axis, _band, _options, solution, windows, census, tip, end);
    }

    /// <summary>The line's height at the station of a standing stroke.</summary>
    private Vec2 Standing(StandingRing ring, IReadOnlyList<Vec2> line)
    {
        Vec2 nearest = line.MinBy(v => Math.Abs(_axis.Curve.Nearest(v).S - ring.Station));
        return _axis.Curve.Point(ring.Station) + (_axis.Curve.Normal(ring.Station) * _axis.Curve.Nearest(nearest).Offset);
    }

    private List<Vec2> Corners()
    {
        if (_band.Rings is { } found)
            return Rings(found);
        IReadOnlyList<PathPoint> points = _band.Free!.Points();
        List<Vec2> line = new PolylineChoice(points, _turnSign, cornerCost: 20, _clearance)
            .Choose(PolylineChoice.Corners(StraightRuns.Cut(points, costPerRun: 25), points));
        for (int pass = 0; pass < 2; pass++)
        {
            int end = line.Count - 1;
            (PolylineSolution fitted, List<LineWindow>[] seen) = LineFit.Refine(_sight, line, CoarsePasses, i => i == 0 || i == end);
            line = new PolylineChoice(LineFit.Points(fitted.Vertices, seen, _band.Strip.StepMm), _turnSign, cornerCost: 40, _clearance).Choose(fitted.Vertices);
        }

        return line;
    }

    /// <summary>Line and rings were found together: what hardly looks like a guide and where the line does not turn goes.</summary>
    private List<Vec2> Rings(OutsideTrace found)
    {
        List<Vec2> line = [.. found.Path.Points];
        int end = line.Count - 1;
        (PolylineSolution fitted, List<LineWindow>[] seen) = LineFit.Refine(_sight, line, CoarsePasses, i => i == 0 || i == end);
        bool[] mayGo = [.. line.Select((v, i) => i > 0 && i < end && WellSeen(seen[i - 1]) && WellSeen(seen[i])
            && found.Near(_axis.Curve.Nearest(v).S) is { } ring && !OutsideTrace.IsPlain(ring))];
        return new PolylineChoice(LineFit.Points(fitted.Vertices, seen, _band.Strip.StepMm), _turnSign, cornerCost: 40, _clearance).Choose(fitted.Vertices, mayGo);
    }

    private static bool WellSeen(List<LineWindow> windows) =>
        windows.Count >= LeastWindows && LineDoubts.Shown(windows) > WellSeenShare * windows.Count;

    private HangingLine? Hang(List<Vec2> line) =>
        HangSearch.Find(_photo.Bgr, _plane, _band.Colour, line[1], NearTip(line), _options.TipSearchMm, _band.Strip.StepMm);

    /// <summary>The last segment's way beside the blank's end.</summary>
    private Vec2 NearTip(List<Vec2> line)
    {
        Vec2 ahead = (line[0] - line[1]).Normalized();
        return line[1] + (ahead * ahead.Dot(_axis.Curve.Point(0) - line[1]));
    }

    private RingSupport Support(PolylineSolution solution, int tip)
    {
        ForegroundMap map = ForegroundMap.Compute(_band.Strip, LookUpToMm);
        if (_band.Rings is { } found)
            return new RingSupport(_axis, _band.Strip, map, [.. found.Path.Rings.Where(r => solution.Vertices.Any(v => Math.Abs(_axis.Curve.Nearest(v).S - r.Station) < 5)).Select(r => Standing(r, solution.Vertices))]) { Rings = found };
        List<Vec2> wellPlaced = [];
        for (int i = tip + 1; i < solution.Vertices.Count - 1; i++)
        {
            (double s, double offset) = _axis.Curve.Nearest(solution.Vertices[i]);
            (double along, _) = RingReport.Uncertainty(solution, i, _axis.Curve.Tangent(s));
            if (along < 1.2 && Math.Abs(offset) < 15)
                wellPlaced.Add(solution.Vertices[i]);
        }

        return new RingSupport(_axis, _band.Strip, map, wellPlaced);
    }
}
