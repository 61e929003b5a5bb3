using DeflectScan.Calibration;
using DeflectScan.Findings;
using DeflectScan.Photos;
using DeflectScan.Tracing;

namespace DeflectScan.Measuring;

/// <summary>
/// A progress that is also shown what each stage found, as soon as it is found, so that nobody need find it again. It is called on the thread that measures;
/// photos are the measurement's own and may not be kept beyond the call.
/// </summary>
internal interface IMeasureWatch : IProgress<string>
{
    /// <summary>The file is no photo that can be read.</summary>
    void Unreadable(IReadOnlyList<Finding> why);

    /// <summary>The cards were found and solved, or refused.</summary>
    void Scaled(UprightPhoto photo, Outcome<PlaneSolution> solved);

    /// <summary>The blank was traced, or refused.</summary>
    /// <param name="photo">Upright photo.</param>
    /// <param name="solved">Its plane.</param>
    /// <param name="axis">The outcome.</param>
    /// <param name="atRest">What was found of a rod that nothing may pull; null where one is bent and its line comes next.</param>
    void Traced(UprightPhoto photo, PlaneSolution solved, Outcome<BlankAxis> axis, IReadOnlyList<Finding>? atRest);

    /// <summary>The line was followed, or refused.</summary>
    void Followed(Outcome<LineTrace> line);
}
