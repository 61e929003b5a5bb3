using DeflectScan.Calibration;
using DeflectScan.Findings;
using DeflectScan.Photos;

namespace DeflectScan.Tracing.Blank;

/// <summary>
/// Finds the blank in a photo and traces its centreline from the handle to the tip, with its diameter along the way, told nothing.
/// A trained network proposes where the blank runs, bent or at rest, and edges on the photo measure it there.
/// </summary>
public static class AxisTracer
{
    private const double LeastBody = 0.6; // share of a proposed bar of which the network sees the body
    private const double LeastTurn = 0.1; // of a loaded blank from butt to tip, rad: straighter is a rod at rest, a cord or a post
    private const double LongMm = 500; // a bar at least this long may be a blank that runs out of the photo

    /// <param name="photo">Upright photo.</param>
    /// <param name="plane">The plane that the blank lies in.</param>
    /// <param name="options">What may be assumed.</param>
    public static Outcome<BlankAxis> Trace(UprightPhoto photo, RodPlane plane, AxisOptions options)
    {
        AxisMarks marks = AxisMarks.Of(plane, options);
        GuidedBar guided = new(photo, plane, options);
        List<RodCandidate> proposed = ProposedBars.Of(photo, plane, guided);
        RodCandidate? rod = proposed.Find(c => IsBlank(c, options) && marks.Fit(c.Bar)) ?? Marked(guided, marks, options);
        return rod is null ? NotFound(photo, plane, proposed, marks, options) : AxisResult.Of(photo, plane, rod, marks, options);
    }

    private static bool IsBlank(RodCandidate c, AxisOptions options) =>
        c.BodyShare > LeastBody && c.Bar.Length > options.ShortestBlankMm && (options.AtRest || Math.Abs(c.Turn) > LeastTurn) && Math.Abs(c.Turn) * 180 / Math.PI < options.LargeTurnDeg;

    // Where a person marked both ends and what lies between, the marks are the proposal.
    private static RodCandidate? Marked(GuidedBar guided, AxisMarks marks, AxisOptions options) =>
        marks.Start() is { } start && guided.Build(start, _ => 1, ends: 0) is { } rod && rod.Bar.Length > options.ShortestBlankMm && marks.Fit(rod.Bar) ? rod : null;

    // Where the best that was proposed is a long bar that runs to the frame's edge, that is said too.
    private static Outcome<BlankAxis> NotFound(UprightPhoto photo, RodPlane plane, List<RodCandidate> proposed, AxisMarks marks, AxisOptions options)
    {
        List<Finding> findings =
        [
            Finding.Refuse(FindingCode.RodNotFound, marks.Any
                ? "No blank was found that runs through the marked points: check the marks, or take them away."
                : $"No {(options.AtRest ? "" : "bent ")}blank was found: see that the whole rod is in the photo, free in front of a plain background, and in focus."),
        ];
        if (proposed is [{ Bar: var bar }, ..] && bar.Length > LongMm)
        {
            double mmPerPx = plane.MmPerPx(bar.Curve.Point(bar.Length / 2));
            if (FrameExit.MayLeave(photo, plane, bar, mmPerPx))
                findings.Add(Finding.Refuse(FindingCode.TipOutsideFrame, "What could be the blank runs out of the photo at its thin end: step back or turn the camera so that the whole bend is in it."));
            if (FrameExit.MayLeave(photo, plane, bar.Reversed(), mmPerPx))
                findings.Add(Finding.Refuse(FindingCode.ButtOutsideFrame, "What could be the blank runs out of the photo at its thick end: take in the handle, too."));
        }

        return Outcome<BlankAxis>.Refused(findings);
    }
}
