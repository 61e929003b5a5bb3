using DeflectScan.Desk;
using DeflectScan.Findings;
using DeflectScan.Geometry;
using DeflectScan.Mechanics;
using DeflectScan.Mechanics.Stiffness;

namespace DeflectScan.Bending;

/// <summary>The bend under a pull through the line over the rings, as a fish pulls, beside the cord's.</summary>
internal static class LinePulled
{
    /// <summary>Distance in mm from the reel's front to the first guide where none was given; common practice, no source.</summary>
    private const double ReelMm = 560;

    /// <summary>The report; null when no line pull is asked for.</summary>
    public static Outcome<LineBendReport>? Of(MeasuredLayout rod, StiffnessEstimate blank, BendRequest request)
    {
        if (request.LinePullN is null && request.LinePullFactor is null)
            return null;
        if (request.LinePullFactor is null && blank.LoadN is null)
        {
            return Outcome<LineBendReport>.Refused(
                FindingCode.BendTooSmall, "A line pull in newton needs the photographed load: measure again with the load named, or give the pull as a multiple of it.");
        }

        double factor = request.LinePullFactor ?? (request.LinePullN!.Value / blank.LoadN!.Value);
        double tension = factor * (blank.LoadN ?? 1);
        FittedPhoto photo = blank.Photos[blank.ReferencePhoto];
        Outcome<PredictedBend> cord = BendPredictor.AtFactor(blank, factor);
        if (cord.IsRefused)
            return Outcome<LineBendReport>.Refused(cord.Findings);

        // A ring's arm runs along the tip-ward tangent turned by +90 degrees, the opposite of the axis's own normal, which runs from the tip.
        RingOnBlank[] rings = [.. rod.Rings.Select(r => new RingOnBlank(r.StationMm, -rod.Shape.InsideSign * r.HeightMm))];
        LinePull pull = new(tension, photo.PullDirectionDeg, ReelPlace(rod));
        Outcome<LineBend> solved = LineOnRings.Solve(blank.Model(), photo.Clamp, pull, rings);
        if (solved.IsRefused)
            return Outcome<LineBendReport>.Refused(solved.Findings);
        Bend bend = solved.Value.Bend;
        double LargestShift() => Enumerable.Range(0, 101).Select(i => blank.LengthMm * i / 100).Max(s => bend.PointAt(s).DistanceTo(cord.Value.Bend.PointAt(s)));
        List<string> warnings = [.. solved.Findings.Concat(BendLimits.BeyondMeasured(factor, blank.LargestForceRatio)).Select(f => f.Message)];
        if (solved.Value.LineCrossesBlank)
            warnings.Add("Between two rings the line would lie on the blank; what it does there is left out.");
        if (rod.LineFromMm is null)
            warnings.Add("Where the line comes off the reel was not seen: it is taken as straight on from the first pair of guides.");
        return Outcome<LineBendReport>.Of(new LineBendReport(
            blank.LoadN is null ? null : tension,
            factor,
            bend.TipTurnDeg,
            cord.Value.Bend.TipTurnDeg,
            bend.TipMm.DistanceTo(cord.Value.Bend.TipMm),
            LargestShift(),
            solved.Value.LineCrossesBlank,
            [.. solved.Value.Rings.Reverse().Select((r, i) => new RingPush(
                i + 1, r.Ring.StationMm, r.LineAngleDeg, blank.LoadN is null ? null : r.ForceN.Length, r.ForceN.Length / (blank.LoadN ?? 1)))],
            BendStudy.Samples(bend, s => 2 * cord.Value.NormalSdAt(s), blank),
            warnings));
    }

    // Along the line's way before the first guide, as far as the reel stands from it.
    private static Vec2 ReelPlace(MeasuredLayout rod)
    {
        Vec2 first = rod.Rings[0].PointMm;
        Vec2 towards = ((rod.LineFromMm ?? (first + (first - rod.Rings[1].PointMm))) - first).Normalized();
        double far = rod.ReelStationMm - rod.Rings[0].StationMm ?? ReelMm;
        return first + (towards * Math.Max(50, far));
    }
}
