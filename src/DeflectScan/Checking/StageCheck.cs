using DeflectScan.Calibration;
using DeflectScan.Findings;
using DeflectScan.Measuring;
using DeflectScan.Photos;
using DeflectScan.Tracing;

namespace DeflectScan.Checking;

/// <summary>
/// The check of a photo that is measured anyway: made of what the measurement's own stages find and said after each of them, so that neither cards nor blank are
/// looked for twice. It has the items of <see cref="PhotoChecker"/>, from the photo itself in place of a reduced one. Hand it to the pipeline as its progress.
/// </summary>
/// <param name="stages">Told the stages.</param>
/// <param name="say">Told the report after the cards, the blank and the line: each time all there is by then.</param>
/// <param name="options">The bars; null: the usual ones.</param>
public sealed class StageCheck(IProgress<string>? stages, Action<CheckReport> say, CheckOptions? options = null) : IMeasureWatch
{
    private readonly CheckOptions _options = options ?? CheckOptions.Default;
    private CheckReport _report = new(null, []);

    /// <inheritdoc/>
    public void Report(string value) => stages?.Report(value);

    void IMeasureWatch.Unreadable(IReadOnlyList<Finding> why) => Say(new CheckReport(null, [.. why.Select(CheckItems.File)]));

    void IMeasureWatch.Scaled(UprightPhoto photo, Outcome<PlaneSolution> solved) =>
        Say(PhotoChecker.Cards(photo, solved, _options) with { Reach = solved.IsRefused ? CheckReach.Whole : CheckReach.Cards });

    void IMeasureWatch.Traced(UprightPhoto photo, PlaneSolution solved, Outcome<BlankAxis> axis, IReadOnlyList<Finding>? atRest)
    {
        List<CheckItem> items = [.. CheckItems.Rod([.. axis.Findings, .. atRest ?? []], fromReduced: false)];
        if (axis.Value is { } blank)
            items.AddRange(CheckItems.Blank(BlankLook.Of(photo, solved.Plane, blank, _options.BlankContrast), photo.Info, _options));
        Add(items, axis.IsRefused || atRest is not null ? CheckReach.Whole : CheckReach.Blank);
    }

    void IMeasureWatch.Followed(Outcome<LineTrace> line) => Add([CheckItems.Line(line.Value is { } trace ? SeenShare(trace) : 0, _options)], CheckReach.Whole);

    /// <summary>Share, 0 to 1, of the line's way between the rings on which it was seen.</summary>
    private static double SeenShare(LineTrace line)
    {
        double seen = 0, all = 0;
        for (int i = 0; i < line.SegmentSources.Count; i++)
        {
            double length = line.Rings[i].ContactMm.DistanceTo(line.Rings[i + 1].ContactMm);
            (seen, all) = (seen + (line.SegmentSources[i] == Source.Inferred ? 0 : length), all + length);
        }

        return all > 0 ? seen / all : 0;
    }

    private void Add(IEnumerable<CheckItem> items, CheckReach reach) => Say(_report with { Items = [.. _report.Items, .. items], Reach = reach });

    private void Say(CheckReport report) => say(_report = report);
}
