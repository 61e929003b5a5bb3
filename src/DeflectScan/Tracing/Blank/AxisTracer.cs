using DeflectScan.Calibration;
using DeflectScan.Findings;
using DeflectScan.Geometry;
using DeflectScan.Photos;

namespace DeflectScan.Tracing.Blank;

/// <summary>
/// Finds the blank in a photo and traces its centreline from the handle to the tip, with its diameter along the way, told nothing.
/// A trained network proposes where the blank runs, and edges on the photo measure it there. A rod at rest, and one for which nothing is proposed, is looked
/// for by bars of all widths and colours in a small picture, joined into tapering one-way bends, followed and fitted on the photo itself.
/// </summary>
public static class AxisTracer
{
    private const double ShortestStrokeMm = 14;
    private const int MostStrokes = 700;
    private const int MostCandidates = 4;
    private const double LeastChainShare = 0.35; // of the best chain's score: weaker chains are not followed
    private const double DoubtShare = 0.85; // of the best candidate's rate: another one that close is a doubt
    private const double LeastLikeness = 0.3; // of a rate that equals the length: less is hardly a blank
    private const double LeastRateMm = 250;
    private const double LeastBody = 0.6; // share of a proposed bar of which the network sees the body
    private const double LeastTurn = 0.1; // of a proposed bar from butt to tip, rad
    private const double LongStartMm = 500; // a bar at least this long may be a blank that was not followed

    /// <param name="photo">Upright photo.</param>
    /// <param name="plane">The plane that the blank lies in.</param>
    /// <param name="cardOutlinesMm">Polygons in the rod plane, mm, that cover the scale cards with their boards: nothing is looked for there.</param>
    /// <param name="options">What may be assumed.</param>
    public static Outcome<BlankAxis> Trace(
        UprightPhoto photo, RodPlane plane, IReadOnlyList<IReadOnlyList<Vec2>> cardOutlinesMm, AxisOptions options)
    {
        AxisMarks marks = AxisMarks.Of(plane, options);
        if (!options.AtRest && Proposed(photo, plane, options, marks) is { } proposed)
            return AxisResult.Of(photo, plane, proposed, marks, options, doubtful: false, unlike: false);
        List<TracedBar> starts = Starts(photo, plane, cardOutlinesMm, options);
        List<RodCandidate> candidates = Candidates(photo, plane, starts, options, marks);
        double strongest = candidates.Count > 0 ? candidates.Max(c => c.Contrast) : 0;
        candidates.Sort((a, b) => b.Rate(strongest, options.AtRest).CompareTo(a.Rate(strongest, options.AtRest)));
        if (candidates.Count == 0 || candidates[0].Rate(strongest, options.AtRest) < LeastRateMm || candidates[0].Bar.Length < options.ShortestBlankMm)
        {
            return NotFound(photo, plane, starts, marks, options.AtRest);
        }

        RodCandidate best = candidates[0];
        RodCandidate? other = candidates.Skip(1).FirstOrDefault(c => !SameBar(c, best));
        return AxisResult.Of(
            photo, plane, best, marks, options, other is not null && other.Rate(strongest, options.AtRest) > DoubtShare * best.Rate(strongest, options.AtRest),
            best.Body is null && best.Rate(strongest, options.AtRest) < LeastLikeness * best.Bar.Length);
    }

    // A straight one is a rod at rest, a cord or a post: what the network was not taught. It is looked for otherwise, as is one hardly seen on the photo.
    private static RodCandidate? Proposed(UprightPhoto photo, RodPlane plane, AxisOptions options, AxisMarks marks) =>
        ProposedBars.Of(photo, plane, options).Find(c => marks.Fit(c.Bar) && c.BodyShare > LeastBody && c.Bar.Length > options.ShortestBlankMm
            && Math.Abs(c.Turn) > LeastTurn && Math.Abs(c.Turn) * 180 / Math.PI < options.LargeTurnDeg);

    // Where the best that was found is a long bar that runs to the frame's edge, that is said too.
    private static Outcome<BlankAxis> NotFound(UprightPhoto photo, RodPlane plane, List<TracedBar> starts, AxisMarks marks, bool atRest)
    {
        List<Finding> findings =
        [
            Finding.Refuse(FindingCode.RodNotFound, marks.Any
                ? "No blank was found that runs through the marked points: check the marks, or take them away."
                : $"No {(atRest ? "" : "bent ")}blank was found: see that the whole rod is in the photo, free in front of a plain background, and in focus."),
        ];
        if (starts.Count > 0 && starts[0].Length > LongStartMm)
        {
            double mmPerPx = plane.MmPerPx(starts[0].Curve.Point(starts[0].Length / 2));
            if (FrameExit.MayLeave(photo, plane, starts[0], mmPerPx))
                findings.Add(Finding.Refuse(FindingCode.TipOutsideFrame, "What could be the blank runs out of the photo at its thin end: step back or turn the camera so that the whole bend is in it."));
            if (FrameExit.MayLeave(photo, plane, starts[0].Reversed(), mmPerPx))
                findings.Add(Finding.Refuse(FindingCode.ButtOutsideFrame, "What could be the blank runs out of the photo at its thick end: take in the handle, too."));
        }

        return Outcome<BlankAxis>.Refused(findings);
    }

    private static List<RodCandidate> Candidates(
        UprightPhoto photo, RodPlane plane, List<TracedBar> starts, AxisOptions options, AxisMarks marks)
    {
        CandidateBuilder builder = new(photo, plane, options);
        List<RodCandidate> candidates = [];
        foreach (TracedBar start in starts)
        {
            if (builder.Build(start) is { } candidate && marks.Fit(candidate.Bar))
                candidates.Add(candidate);
        }

        if (candidates.Count == 0 && marks.Start() is { } marked && builder.Build(marked) is { } byHand && marks.Fit(byHand.Bar))
            candidates.Add(byHand);
        return candidates;
    }

    private static List<TracedBar> Starts(
        UprightPhoto photo, RodPlane plane, IReadOnlyList<IReadOnlyList<Vec2>> cardOutlinesMm, AxisOptions options)
    {
        using SearchImage image = SearchImage.Of(photo, plane, cardOutlinesMm, options.SearchMmPerPx);
        BarField field = BarField.Of(image, options.LeastContrast);
        List<Vec2[]> links = RidgeLinker.Link(field, options.LeastContrast, 10);
        List<BarStroke> strokes = new StrokeBuilder(image, field).Build(links, ShortestStrokeMm, MostStrokes);
        List<StrokeChain> chains = ChainSearch.Find(strokes, options.LongestGapMm, MostCandidates, LeastChainShare, options.AtRest);
        List<TracedBar> starts = [];
        foreach (StrokeChain chain in chains)
        {
            if (ChainStart.Bar(chain, image.MmPerPx) is { } start)
                starts.Add(start);
        }

        return starts;
    }

    private static bool SameBar(RodCandidate a, RodCandidate b)
    {
        int near = 0;
        for (int i = 0; i <= 10; i++)
        {
            (double s, double offset) = b.Bar.Curve.Nearest(a.Bar.Curve.Point(a.Bar.Length * i / 10));
            near += Math.Abs(offset) < 6 && s > -20 && s < b.Bar.Length + 20 ? 1 : 0;
        }

        return near >= 5;
    }
}
