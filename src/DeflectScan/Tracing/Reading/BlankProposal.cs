using DeflectScan.Geometry;

namespace DeflectScan.Tracing.Reading;

/// <summary>Where the bare blank seems to run, photo px, from the butt to the tip.</summary>
/// <param name="PointsPx">Some mm apart, good to one or two mm.</param>
/// <param name="Weights">For each point, how surely it lies on the blank, 0 to 1.</param>
/// <param name="MeanLogProbability">Of the cells along the way being blank: 0 is certain.</param>
/// <param name="EndsLogProbability">Of its ends being the butt and the tip, summed.</param>
internal sealed record BlankProposal(IReadOnlyList<Vec2> PointsPx, IReadOnlyList<double> Weights, double MeanLogProbability, double EndsLogProbability);
