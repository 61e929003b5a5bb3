using DeflectScan.Bending;
using DeflectScan.Calibration;
using DeflectScan.Desk;
using DeflectScan.Findings;
using DeflectScan.Geometry;
using DeflectScan.Mechanics;
using DeflectScan.Mechanics.Stiffness;
using DeflectScan.Scenes;

namespace DeflectScan.Accuracy.Compare;

/// <summary>One photo's prediction of the same rod at another load, against that load's exact truth. mm.</summary>
/// <param name="ShapeMm">Distance of each predicted place from the true axis, in the truth's frame.</param>
/// <param name="ShapeCovered">Share of the places within their stated uncertainty.</param>
/// <param name="LargestStatedMm">Largest stated uncertainty of a place.</param>
/// <param name="Gaps">Errors of all pairs, reel to first guide left out.</param>
/// <param name="Bows">The same.</param>
/// <param name="FiguresCovered">Share of gaps and bows within their stated uncertainty.</param>
/// <param name="LoadByTurn">Load that the other photo's tip turn takes, over the true one, less 1.</param>
/// <param name="LoadByTurnStated">Its stated uncertainty, as a share.</param>
public sealed record LoadPrediction(
    IReadOnlyList<double> ShapeMm,
    double ShapeCovered,
    double LargestStatedMm,
    IReadOnlyList<double> Gaps,
    IReadOnlyList<double> Bows,
    double FiguresCovered,
    double LoadByTurn,
    double LoadByTurnStated)
{
    /// <summary>Whether two truths show one rod in one layout at two loads.</summary>
    public static bool SameRod(Truth a, Truth b) =>
        a.Blank.Samples.Count == b.Blank.Samples.Count
        && a.Guides.Count == b.Guides.Count
        && a.Blank.ForceRelative > 0
        && Math.Abs((b.Blank.ForceRelative / a.Blank.ForceRelative) - 1) > 0.01
        && a.Blank.Samples.Zip(b.Blank.Samples).All(p => Math.Abs(p.First.DiameterMm - p.Second.DiameterMm) < 1e-3)
        && a.Guides.Zip(b.Guides).All(p => Math.Abs(p.First.FromTipMm - p.Second.FromTipMm) < 0.01);

    /// <summary>From the measured photo of one load to the other one's truth, whose load relative to this one is given.</summary>
    /// <param name="source">The measured photo, and the others that help it.</param>
    /// <param name="own">Its truth.</param>
    /// <param name="other">The truth of the load that is predicted.</param>
    public static LoadPrediction Of(BlankSource source, Truth own, Truth other)
    {
        Measurement measured = source.Reference;
        double factor = other.Blank.ForceRelative / own.Blank.ForceRelative;
        MeasuredLayout rod = Need(MeasuredLayout.Of(measured));
        Outcome<StiffnessEstimate> estimate = source.Estimate();
        BendReport report = Need(BendStudy.Of(rod, estimate, new BendRequest([AskedBend.Load(factor), AskedBend.Turn(Turn(other, Need(estimate)))])));
        BendCase bend = report.Bends[0];

        // Where the measurement's frame lies in the truth's is told by the measured photo's own axis alone.
        RodPlane world = own.RodPlane();
        RigidMotion motion = RigidMotion.Fit([.. measured.Blank!.Axis.Select(a => a.Mm)], [.. measured.Blank.Axis.Select(a => world.ToPlane(a.Px))]);
        ArcCurve truth = ArcCurve.Through([.. other.Blank.Samples.Reverse().Select(s => new Vec2(s.X, s.Y))]);
        double[] off = [.. bend.Axis.Select(a => Math.Abs(truth.Nearest(motion.Apply(a.PointMm)).Offset))];
        TruthInterval[] pairs = [.. other.Intervals.Skip(1)];
        bool[] covered =
        [
            .. bend.Pairs.Select((p, i) => Math.Abs(p.GapMm - pairs[i].GapMm) <= p.GapUncertaintyMm),
            .. bend.Pairs.Select((p, i) => Math.Abs(p.BowMm - pairs[i].BowMm) <= p.BowUncertaintyMm),
        ];
        return new LoadPrediction(
            off,
            (double)bend.Axis.Where((a, i) => off[i] <= a.AcrossUncertaintyMm).Count() / off.Length,
            bend.Axis.Max(a => a.AcrossUncertaintyMm),
            [.. bend.Pairs.Select((p, i) => p.GapMm - pairs[i].GapMm)],
            [.. bend.Pairs.Select((p, i) => p.BowMm - pairs[i].BowMm)],
            (double)covered.Count(c => c) / covered.Length,
            (report.Bends[1].LoadFactor / factor) - 1,
            report.Bends[1].LoadUncertaintyShare);
    }

    // From where the bend is held: the clamp where the unseen part is known, else where the trace ends.
    private static double Turn(Truth truth, StiffnessEstimate estimate)
    {
        double end = truth.Blank.LengthMm - estimate.LengthMm;
        return Math.Abs(truth.Blank.Samples[^1].AngleDeg - truth.Blank.Samples.MinBy(s => Math.Abs(s.S - end))!.AngleDeg);
    }

    /// <summary>The other photo's pull over this one's as both together tell it, over the true ratio, less 1, with its stated uncertainty.</summary>
    public static (double Error, double Stated) JointRatio(Measurement one, Measurement other, double factor)
    {
        StiffnessEstimate estimate = Need(new BlankSource(one) { With = [other] }.Estimate());
        return ((estimate.Photos[1].ForceRatio / factor) - 1, 2 * estimate.Photos[1].ForceRatioSd / factor);
    }

    private static T Need<T>(Outcome<T> outcome)
        where T : class =>
        outcome.Value ?? throw new InvalidDataException(outcome.Findings[0].Message);
}
