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
        (List<Vec2> line, List<OutsideVertex>? outside) = _band.Rings is { } found ? Rings(found) : (Corners(), null);
        HangingLine? hang = Hang(line);
        double step = _band.Strip.StepMm;
        Vec2 ahead = (line[0] - line[1]).Normalized();
        SegmentEnd? end = hang is null ? LineEnd.Find(_photo.Bgr, _plane, _axis, _band.Colour, line[1], NearTip(line), _options.TipSearchMm, step) : null;
        line[0] = hang?.ContactMm ?? (end is { } seen ? line[1] + (ahead * seen.AlongMm) : NearTip(line));
        int tip = 0;
        if (hang is not null)
        {
            line.Insert(0, hang.EndMm);
            outside?.Insert(0, OutsideVertex.End);
            tip = 1;
        }

        List<double> doubts = [];
        PolylineSolution solution = Fit(line, tip, Holds(outside)).Solution;
        if (outside is not null)
        {
            (outside, doubts) = RingPlaces.Settled(_axis, _band.Rings!.Candidates, Free(solution.Vertices, tip, outside), LineFit.DampingMm, outside);
            solution = Fit(solution.Vertices, tip, Holds(outside)).Solution;
        }

        line = [.. solution.Vertices];

        RingSupport support = Support(solution, tip, outside);
        GuideCensus census = outside is null
            ? GuideCensus.Take(_axis, support, line, tip)
            : OutsideCensus.Take(_axis, support, _band.Rings!, line, outside, tip, _band.Strip.Side, step);
        census.Doubts.AddRange(doubts);
        line = census.Line;
        (solution, List<LineWindow>[] windows) = LineFit.Refine(_sight, line, FinePasses, i => (i == 0 && tip > 0) || i == line.Count - 1, census.Pulls, forReport: true);
        return RingReport.Make(_photo, _plane, _axis, _band, _options, solution, windows, census, tip, end);
    }

    private (PolylineSolution Solution, List<LineWindow>[] Windows) Fit(IReadOnlyList<Vec2> line, int tip, IReadOnlyList<VertexHold?>? holds) =>
        LineFit.Refine(_sight, line, FinePasses, i => (i == 0 && tip > 0) || i == line.Count - 1, holds is null ? null : holds.Pulls);

    /// <summary>From the held line to where the line alone has its corners.</summary>
    private PolylineSolution Free(IReadOnlyList<Vec2> line, int tip, IReadOnlyList<OutsideVertex> vertices) =>
        Fit(line, tip, [.. vertices.Select(v => v.LiesOnBlank ? v.Hold(_axis, _band.Strip.Side) : null)]).Solution;

    private List<VertexHold?>? Holds(IReadOnlyList<OutsideVertex>? vertices) =>
        vertices is null ? null : [.. vertices.Select(v => v.Hold(_axis, _band.Strip.Side))];

    /// <summary>The line's height at the station of a standing stroke.</summary>
    private Vec2 Standing(StandingRing ring, Vec2 vertex) =>
        _axis.Curve.Point(ring.Station) + (_axis.Curve.Normal(ring.Station) * _axis.Curve.Nearest(vertex).Offset);

    private List<Vec2> Corners()
    {
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
    private (List<Vec2> Line, List<OutsideVertex> Vertices) Rings(OutsideTrace found)
    {
        List<Vec2> line = [.. found.Path.Points];
        IReadOnlyList<OutsideVertex> vertices = found.Path.Vertices;
        List<VertexHold?> holds = Holds(vertices)!;
        int end = line.Count - 1;
        (PolylineSolution fitted, List<LineWindow>[] seen) = LineFit.Refine(_sight, line, CoarsePasses, i => i == 0 || i == end, holds.Pulls);
        bool[] mayGo = [.. vertices.Select((v, i) => v.Ring is { } ring && !OutsideTrace.IsPlain(ring) && WellSeen(seen[i - 1]) && WellSeen(seen[i]))];
        (line, List<int> kept) = new PolylineChoice(LineFit.Points(fitted.Vertices, seen, _band.Strip.StepMm), _turnSign, cornerCost: 40, _clearance)
            .Choose(fitted.Vertices, mayGo, holds);
        return (line, [.. kept.Select(i => vertices[i])]);
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

    private RingSupport Support(PolylineSolution solution, int tip, IReadOnlyList<OutsideVertex>? outside)
    {
        ForegroundMap map = ForegroundMap.Compute(_band.Strip, LookUpToMm);
        if (outside is not null)
            return new RingSupport(_axis, _band.Strip, map, [.. outside.Zip(solution.Vertices).Where(v => v.First.Ring is not null).Select(v => Standing(v.First.Ring!, v.Second))]);
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
