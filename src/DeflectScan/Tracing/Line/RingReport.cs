using DeflectScan.Calibration;
using DeflectScan.Findings;
using DeflectScan.Geometry;
using DeflectScan.Numerics;
using DeflectScan.Photos;
using DeflectScan.Tracing.Rings;
using MathNet.Numerics.LinearAlgebra;

namespace DeflectScan.Tracing.Line;

/// <summary>Turns the fitted polyline into ring sightings and says what is doubtful.</summary>
internal static class RingReport
{
    /// <summary>A ring less well placed than this along the blank, mm, is loosely placed.</summary>
    private const double LooseMm = 1.5;

    /// <summary>One less well placed than this is put up for review; the tip-top's sooner, as every station counts from it.</summary>
    private const double LoosestMm = 10;
    private const double LoosestTipMm = 5;

    /// <summary>
    /// Where a segment's windows have less evidence than the first, the line is faint, and with the second hardly seen; a ring's standard deviation
    /// beside it grows by up to that share (all three chosen).
    /// </summary>
    private const double PlainEvidence = 8;
    private const double FaintEvidence = 6;
    private const double FaintTail = 1;

    /// <summary>Line and reading contradict each other where they are this many standard deviations of both apart.</summary>
    private const double Contradiction = 4.5;

    /// <summary>
    /// Where the line bends round a ring's rim, its straight pieces meet outside the rim: by r (sec(turn / 2) - 1) for a rim of radius r (elementary
    /// geometry). A rim is about 2 mm thick (common practice, no source).
    /// </summary>
    private const double RimRadiusMm = 1;

    /// <summary>Said where the rings alone are known.</summary>
    public static Finding NoLine { get; } = Finding.Note(
        FindingCode.LineNotSeen,
        "The line itself was not seen: it is taken as straight from ring to ring, as the rings' outlines show where a taut line touches them, and every figure is less sure; a line that stands out from the wall tells more.");

    /// <summary>Rings as they were read, the line inferred.</summary>
    public static LineTrace Unseen(BlankAxis axis, RingChoice rings, double insideSign)
    {
        RingSighting[] seen =
        [
            .. rings.Places.Reverse().Select((r, i) =>
                new RingSighting(r.Point(axis, insideSign), r.AlongSdMm, r.AcrossSdMm, null, i == rings.Places.Count - 1, r.Source)),
        ];
        return new LineTrace(rings.IsInside ? BendSide.Inside : BendSide.Outside, seen, [.. seen.Skip(1).Select(_ => Source.Inferred)], null, null)
        {
            IsTipAtLineEnd = !rings.IsTipKnown,
        };
    }

    public static Outcome<LineTrace> Make(
        UprightPhoto photo, RodPlane plane, BlankAxis axis, RingChoice choice, double insideSign, FittedLine line, double stepMm, bool sideIsTold)
    {
        (PolylineSolution solution, List<LineWindow>[] windows, IReadOnlyList<LineVertex> kinds, int tip) = line;
        List<Finding> doubts = [.. RingDoubts.Of(choice, sideIsTold)];
        List<Finding> findings = [.. choice.Findings, .. doubts];
        List<RingSighting> rings = [];
        List<int> vertices = [];
        List<double> contradicted = [];
        RingAgreement agreement = new([.. kinds.Index().Where(k => k.Index >= tip && k.Index <= solution.Vertices.Count - 2 && k.Item.Ring?.Source == Source.Traced).Select(k => Off(solution.Vertices[k.Index], k.Item.Ring!, axis, insideSign))]);
        for (int i = solution.Vertices.Count - 2; i >= tip; i--)
        {
            if (kinds[i].Ring is not { } place)
                continue; // the line lies on the blank here
            double s = axis.Curve.Nearest(solution.Vertices[i]).S;
            Vec2 way = axis.Curve.Tangent(s);
            (double along, double across) = Uncertainty(solution, i, way);
            Vec2 off = Off(solution.Vertices[i], place, axis, insideSign);
            double most = place.Source == Source.Marked ? RingChoice.Agrees : Contradiction;
            if (Math.Abs(off.X) > most * place.AlongSdMm || Math.Abs(off.Y) > most * place.AcrossSdMm)
                contradicted.Add(s);
            double faint = Faint(windows, i);
            along = LongTailed(along * FewWindows(windows, i), faint);
            across *= faint;
            along = RingAgreement.Along(along, off.X, place);
            across = agreement.Across(across, off.Y, place);
            double rim = RimSdMm(solution.Vertices, i);
            rings.Add(new RingSighting(solution.Vertices[i], Math.Sqrt((along * along) + (rim * rim)), across, null, i == tip, place.Source));
            vertices.Add(i);
        }

        Source[] segments = new Source[Math.Max(0, rings.Count - 1)];
        for (int k = 0; k < segments.Length; k++)
        {
            List<LineWindow> between = [.. Enumerable.Range(vertices[k + 1], vertices[k] - vertices[k + 1]).SelectMany(i => windows[i])];
            segments[k] = Seen(between) ? Source.Traced : Source.Inferred;
        }

        findings.AddRange(Loose(rings, axis, isTipSeen: true));
        BrightWall.Add(findings, photo, plane, axis);
        LineDoubts.Add(findings, [.. windows.Skip(tip)], segments, contradicted, choice.IsTipKnown || (tip > 0 && choice.IsComplete), stepMm, doubts.Count == 0);
        return Outcome<LineTrace>.Of(
            new LineTrace(choice.IsInside ? BendSide.Inside : BendSide.Outside, rings, segments, solution.Vertices[^1], tip == 0 ? null : solution.Vertices[0])
            {
                IsTipAtLineEnd = tip == 0 && !choice.IsTipKnown,
                TipReadSdMm = choice.IsTipKnown && choice.Places[0].Source == Source.Traced ? choice.Places[0].AlongSdMm : null,
                Pieces = [.. windows.Select((w, i) => Piece(w, solution.Vertices[i], solution.Vertices[i + 1], plane))],
            },
            findings);
    }

    /// <summary>Rings that the line hardly turns at or is hardly seen at, so that its course does not tell where on it they are. A tip-top whose hanging line was not seen has a finding of its own.</summary>
    internal static IEnumerable<Finding> Loose(IReadOnlyList<RingSighting> rings, BlankAxis axis, bool isTipSeen)
    {
        foreach (RingSighting ring in rings.Where(r => r.IsTip ? isTipSeen && r.AlongSdMm > LoosestTipMm : r.AlongSdMm > LoosestMm))
        {
            double station = axis.Curve.Nearest(ring.ContactMm).S;
            string which = ring.IsTip ? "The tip-top's ring" : $"The ring {station:0} mm from the tip";
            yield return Finding.Review(
                ring.IsTip ? FindingCode.LineNotSeen : FindingCode.GuidesUncertain,
                $"{which} is placed to about {2 * ring.AlongSdMm:0} mm only, as the line hardly turns there or is hardly seen: look at the overlay and mark it.") with { Places = [FindingPlace.At(station)] };
        }
    }

    // How far a corner of the line lies from where its ring was expected: along the axis, and across it towards the inside.
    private static Vec2 Off(Vec2 corner, RingPlace place, BlankAxis axis, double insideSign)
    {
        Vec2 way = axis.Curve.Tangent(axis.Curve.Nearest(corner).S);
        Vec2 off = corner - place.Point(axis, insideSign);
        return new Vec2(off.Dot(way), way.Cross(off) * insideSign);
    }

    private static StraightPiece Piece(List<LineWindow> windows, Vec2 from, Vec2 to, RodPlane plane)
    {
        double pxMm = plane.MmPerPx(Vec2.Lerp(from, to, 0.5));
        return new StraightPiece([.. LineFit.Points([from, to], [windows], pxMm).Select(p => (plane.ToPhoto(p.PlaneMm), p.SdMm / pxMm))]);
    }

    /// <summary>Standard deviations of a vertex along and across a direction, mm.</summary>
    public static (double Along, double Across) Uncertainty(PolylineSolution solution, int vertex, Vec2 direction)
    {
        Matrix<double> c = solution.Covariance.SubMatrix(2 * vertex, 2, 2 * vertex, 2);
        double Sd(Vec2 d) => Math.Sqrt((d.X * d.X * c[0, 0]) + (2 * d.X * d.Y * c[0, 1]) + (d.Y * d.Y * c[1, 1]));
        return (Sd(direction), Sd(direction.Perpendicular));
    }

    private static double RimSdMm(IReadOnlyList<Vec2> vertices, int vertex)
    {
        if (vertex == 0)
            return 0;
        Vec2 from = (vertices[vertex] - vertices[vertex - 1]).Normalized();
        Vec2 to = (vertices[vertex + 1] - vertices[vertex]).Normalized();
        return RimRadiusMm * ((1 / Math.Cos(from.TurnTo(to) / 2)) - 1);
    }

    // A ring's place along the blank hangs on the slopes of two fitted segments. Where few windows show one of them, its scatter is known
    // badly, and twice the standard deviation holds less than 95 %: Student's factor (JCGM 100:2008, G.3) for the weaker one makes up for it.
    private static double FewWindows(List<LineWindow>[] windows, int vertex)
    {
        int seen = Math.Min(LineDoubts.Shown(windows[vertex]), LineDoubts.Shown(windows[Math.Max(0, vertex - 1)]));
        return StudentFactor.Widening(SightSpread.Freedoms(seen));
    }

    // Where the eye hardly sees the line, texture that it is taken for pulls a whole segment, and errors have long tails.
    private static double Faint(List<LineWindow>[] windows, int vertex)
    {
        double evidence = Math.Min(LineDoubts.UsualEvidence(windows[vertex]), LineDoubts.UsualEvidence(windows[Math.Max(0, vertex - 1)]));
        return 1 + (FaintTail * Math.Clamp((PlainEvidence - evidence) / (PlainEvidence - FaintEvidence), 0, 1));
    }

    // What light and background do to a faint segment has longer tails than the normal distribution: on worsened rendered photographs errors of
    // loosely placed rings reached three of these standard deviations.
    private static double LongTailed(double along, double faint) => along * Math.Max(faint, 1 + (0.7 * Math.Min(1, along * along / (LooseMm * LooseMm))));

    private static bool Seen(List<LineWindow> windows) =>
        windows.Count > 0 && windows.Sum(w => w.Evidence) / Math.Sqrt(windows.Count) > 5;
}
