using DeflectScan.Geometry;

namespace DeflectScan.Tracing.Reading;

/// <summary>Where the bare blank seems to run, photo px, from the butt to the tip.</summary>
/// <param name="PointsPx">Some mm apart, good to one or two mm.</param>
/// <param name="Weights">For each point, how surely it lies on the blank, 0 to 1.</param>
/// <param name="MeanLogProbability">Of the cells along the way being blank: 0 is certain.</param>
/// <param name="EndsLogProbability">Of its ends being the butt and the tip, summed.</param>
internal sealed record BlankProposal(IReadOnlyList<Vec2> PointsPx, IReadOnlyList<double> Weights, double MeanLogProbability, double EndsLogProbability)
{
    /// <summary>How much the mean of the way counts beside its two ends when ways are compared: a wrong end makes a short way that is all blank.</summary>
    private const double WayWeight = 4;

    /// <summary>What ways are compared by, a logarithm.</summary>
    public double Likeliness => EndsLogProbability + (WayWeight * MeanLogProbability);
}
