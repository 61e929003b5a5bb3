using DeflectScan.Calibration;
using DeflectScan.Findings;
using DeflectScan.Geometry;

namespace DeflectScan.Tracing.Line;

/// <summary>
/// Ring points that a person placed on the photo. A mark beside a ring that was seen leaves the ring where it was seen, unless both
/// contradict each other: then the person is right. A mark elsewhere is a ring of its own. A mark that agrees with the straight line between
/// its neighbours is set upon that line, which is known better than a click.
/// </summary>
internal static class RingMarks
{
    /// <summary>Two rings never stand nearer to each other than this along the blank, mm (common practice, no source).</summary>
    private const double SameRingMm = 15;

    /// <summary>Standard deviations within which a mark agrees with what was seen.</summary>
    private const double Agrees = 3;

    /// <param name="rings">Rings that were seen, from the reel to the tip-top.</param>
    /// <param name="segments">Source of each piece of line between them.</param>
    /// <param name="reelEndMm">Where the line comes from before the first ring, rod-plane mm.</param>
    /// <param name="axis">The blank.</param>
    /// <param name="plane">The rod plane.</param>
    /// <param name="options">The marks, their uncertainty, and how many rings there are.</param>
    /// <param name="findings">Told of marks that cannot be rings.</param>
    public static (List<RingSighting> Rings, List<Source> Segments) Applied(
        IReadOnlyList<RingSighting> rings, IReadOnlyList<Source> segments, Vec2? reelEndMm, BlankAxis axis, RodPlane plane, LineOptions options, List<Finding> findings)
    {
        List<RingSighting> result = [.. rings];
        List<Source> pieces = [.. segments];
        List<Vec2> marks = [.. options.MarkedRingsPx.Select(plane.ToPlane)];
        double Station(Vec2 p) => axis.Curve.Nearest(p).S;
        if (marks.Count > 0 && options.ExpectedGuides == marks.Count)
            KeepMarked(result, pieces, [.. marks.Select(Station)], Station);
        foreach (Vec2 mark in marks.OrderByDescending(Station))
        {
            double sd = options.MarkSdPx * plane.MmPerPx(mark);
            (double s, double offset) = axis.Curve.Nearest(mark);
            int near = result.FindIndex(r => Math.Abs(Station(r.ContactMm) - s) < SameRingMm);
            if (near >= 0 && result[near].ContactMm.DistanceTo(mark) < 2 * SameRingMm)
            {
                RingSighting seen = result[near];
                if (!Agree(seen, mark, axis.Curve.Tangent(s), sd))
                    result[near] = seen with { ContactMm = mark, AlongSdMm = sd, AcrossSdMm = sd, Source = Source.Marked };
                continue;
            }

            int at = result.FindIndex(r => Station(r.ContactMm) < s);
            bool otherSide = result.Count > 0 && Math.Sign(offset) != Math.Sign(axis.Curve.Nearest(result[0].ContactMm).Offset);
            if (near >= 0 || at < 0 || otherSide || Math.Abs(offset) > options.BandMm)
            {
                findings.Add(Finding.Review(
                    FindingCode.GuidesUncertain, $"The ring mark {s:0} mm from the tip lies beyond the tip-top or away from the line: check the marks file."));
                continue;
            }

            Vec2? before = at == 0 ? reelEndMm : result[at - 1].ContactMm;
            double beforeSd = at == 0 ? sd : result[at - 1].AcrossSdMm;
            result.Insert(at, OnLine(mark, sd, before, beforeSd, result[at]));
            pieces.Insert(at, at == 0 ? Source.Inferred : pieces[at - 1]);
        }

        return (result, pieces);
    }

    /// <summary>The rings from marks alone, where no line was seen: every piece of line is taken as taut. Null with fewer than two marks.</summary>
    public static Outcome<LineTrace>? Alone(BlankAxis axis, RodPlane plane, LineOptions options)
    {
        if (options.MarkedRingsPx.Count < 2)
            return null;
        Vec2[] marks = [.. options.MarkedRingsPx.Select(plane.ToPlane).OrderByDescending(p => axis.Curve.Nearest(p).S)];
        RingSighting[] rings =
        [
            .. marks.Select((m, i) => new RingSighting(
                m, options.MarkSdPx * plane.MmPerPx(m), options.MarkSdPx * plane.MmPerPx(m), null, i == marks.Length - 1, Source.Marked)),
        ];
        double middle = axis.Curve.Length / 2;
        double bend = axis.Curve.Tangent(middle / 2).Cross(axis.Curve.Tangent(middle * 1.5));
        double offsets = marks.Sum(m => axis.Curve.Nearest(m).Offset);
        BendSide side = options.Side ?? (Math.Sign(bend) == Math.Sign(offsets) ? BendSide.Inside : BendSide.Outside);
        return Outcome<LineTrace>.Of(
            new LineTrace(side, rings, [.. rings.Skip(1).Select(_ => Source.Inferred)], null, null),
            [Finding.Review(FindingCode.LineNotSeen, "No line was seen: the rings are where they were marked and the line is taken as straight between them.")]);
    }

    // Every ring was marked: what else was seen is none.
    private static void KeepMarked(List<RingSighting> rings, List<Source> segments, IReadOnlyList<double> stations, Func<Vec2, double> station)
    {
        for (int i = rings.Count - 2; i >= 0; i--)
        {
            double s = station(rings[i].ContactMm);
            if (stations.Any(m => Math.Abs(m - s) < SameRingMm))
                continue;
            rings.RemoveAt(i);
            segments.RemoveAt(i);
        }
    }

    private static bool Agree(RingSighting seen, Vec2 mark, Vec2 tangent, double sd)
    {
        Vec2 off = mark - seen.ContactMm;
        double along = off.Dot(tangent) / Math.Sqrt((sd * sd) + (seen.AlongSdMm * seen.AlongSdMm));
        double across = off.Cross(tangent) / Math.Sqrt((sd * sd) + (seen.AcrossSdMm * seen.AcrossSdMm));
        return Math.Abs(along) < Agrees && Math.Abs(across) < Agrees;
    }

    private static RingSighting OnLine(Vec2 mark, double sd, Vec2? before, double beforeSd, RingSighting after)
    {
        if (before is { } from)
        {
            Vec2 line = (after.ContactMm - from) * (1 / from.DistanceTo(after.ContactMm));
            double off = (mark - from).Cross(line);
            double lineSd = Math.Max(beforeSd, after.AcrossSdMm);
            if (Math.Abs(off) < Agrees * Math.Sqrt((sd * sd) + (lineSd * lineSd)))
                return new RingSighting(from + (line * (mark - from).Dot(line)), sd, lineSd, null, false, Source.Marked);
        }

        return new RingSighting(mark, sd, sd, null, false, Source.Marked);
    }
}
