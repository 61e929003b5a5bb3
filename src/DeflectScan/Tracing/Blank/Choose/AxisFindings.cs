using DeflectScan.Calibration;
using DeflectScan.Findings;

namespace DeflectScan.Tracing.Blank;

/// <summary>What a person should know of a traced blank.</summary>
internal static class AxisFindings
{
    private const double ThinTipPx = 0.9; // of 300 scenes drawn as those that the networks learnt from, 99 in 100 show a thicker one
    private const double BlurredPx = 2.0; // sigma; a sharp phone photo has 0.5 to 0.8
    private const double OpenMm = 1; // a middle miss above it
    private const double LongOpenMm = 60; // over that much
    private const double LeastHandle = 0.5; // most of the profiles beyond the butt have to be thick
    private const double HidesGuideMm = 30; // a guide with its feet fits behind that; on clear rendered photographs at most 21 mm stay unseen
    private const double SeenByNetwork = 0.8; // probability: there the blank is not hidden, its edges only do not stand out; of 300 hidden cells of held-back scenes 15 in 100 are said above it (28 above 0.5), of seen ones 3 in 100 below
    private const double LeastBody = 0.8; // share of the blank of which the network sees the body
    public const double SureEnds = -1.4; // logarithm: wrong ends of held-back scenes were said at -2.3 or less, right ones at -0.9 or more
    private const double EndsMm = 15;

    public static List<Finding> Of(RodCandidate rod, FrameExit exit, RodPlane plane, AxisOptions options)
    {
        List<Finding> findings = [];
        if (exit.AtTip)
            findings.Add(Finding.Refuse(FindingCode.TipOutsideFrame, "The rod's tip lies outside the photo: step back or turn the camera so that the whole bend is in it."));
        if (exit.AtButt && rod.HandleShare < LeastHandle)
            findings.Add(Finding.Review(FindingCode.ButtOutsideFrame, "The blank runs out of the photo at the handle's end: take in the handle, too, or check the guides next to it."));
        else if (rod.HandleShare < LeastHandle && rod.EndsLogProbability < SureEnds)
            findings.Add(Finding.Review(FindingCode.ButtOutsideFrame, "The blank could not be followed to its handle: clear what stands behind that end, or check the guides next to it."));
        double turn = Math.Abs(rod.Turn) * 180 / Math.PI;
        if (turn < options.SmallTurnDeg && !options.AtRest)
            findings.Add(Finding.Review(FindingCode.BendTooSmall, $"The tip turns by only {turn:0} degrees: pull the rod further, the guides' spacing hardly shows at this bend."));
        if (turn > options.LargeTurnDeg)
            findings.Add(Finding.Review(FindingCode.BendExcessive, $"The tip turns by {turn:0} degrees: ease the load, and check that the traced bar is the blank."));
        double tipPx = rod.TipDiameterMm / plane.MmPerPx(rod.Bar.Curve.Point(rod.Bar.Length));
        if (tipPx < ThinTipPx)
            findings.Add(Finding.Review(FindingCode.LowResolution, $"The tip is only {tipPx:0.0} pixels thick: come nearer or use the camera's full resolution."));
        if (rod.BlurPx > BlurredPx)
            findings.Add(Finding.Review(FindingCode.Blurred, "The blank's edges are blurred: hold the camera still, focus on the rod and take the photo again."));

        // The network sees the body, so a blank that hardly stands out is the blank all the same, only less sure, which its uncertainty says.
        if (LongestOpenMm(rod) > LongOpenMm || rod.BodyShare < LeastBody)
            findings.Add(Finding.Note(FindingCode.LowContrast, "Much of the blank hardly stands out from what is behind it: use a plainer background of another brightness."));
        return findings;
    }

    /// <summary>Stretches over which neither edge shows nor the network sees the blank, mm from the first reading; both ends left out, where handle and tip-top begin.</summary>
    public static IEnumerable<(double From, double To)> Hidden(RodCandidate rod)
    {
        double first = rod.Readings[0].S;
        double step = (rod.Readings[^1].S - first) / Math.Max(1, rod.Readings.Count - 1);
        double from = double.NaN;
        double to = 0;
        for (int i = 0; i < rod.Sights.Length; i++)
        {
            double s = rod.Readings[i].S;
            bool isHidden = rod.Sights[i] == Sight.None && rod.BodySure[i] < SeenByNetwork;
            if (isHidden && s - step - first > EndsMm && rod.Readings[^1].S - s > EndsMm)
            {
                (from, to) = (double.IsNaN(from) ? s - step : from, s);
                continue;
            }

            if (to - from > HidesGuideMm)
                yield return (from - first, to - first);
            from = double.NaN;
        }
    }

    // The longest stretch over which most of what was read lies beside the fitted axis.
    private static double LongestOpenMm(RodCandidate rod)
    {
        const double Step = 10;
        EdgeMisfit open = EdgeMisfit.Of(rod.Readings, rod.Fit);
        double longest = 0;
        double run = 0;
        for (double s = rod.Fit.From; s <= rod.Fit.To; s += Step)
        {
            run = open.Miss(s) > OpenMm ? run + Step : 0;
            longest = Math.Max(longest, run);
        }

        return longest;
    }
}
