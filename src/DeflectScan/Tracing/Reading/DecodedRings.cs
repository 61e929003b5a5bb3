namespace DeflectScan.Tracing.Reading;

/// <summary>The most probable rings of a rod.</summary>
/// <param name="Inside">Whether they stand on the inside of the bend.</param>
/// <param name="Rings">From the tip to the reel, the tip-top's not among them.</param>
/// <param name="TipTop">Where the line touches the tip-top's ring; null where nothing like one was read.</param>
/// <param name="SideProbability">That they stand on that side, 0 to 1.</param>
/// <param name="Places">Every place that was looked at on that side, tip to reel, and the probability that a guide stands there.</param>
internal sealed record DecodedRings(
    bool Inside,
    IReadOnlyList<RingCandidate> Rings,
    RingCandidate? TipTop,
    double SideProbability,
    IReadOnlyList<WeighedPlace> Places)
{
    /// <summary>Probability that what was taken for the tip-top's ring is a guide's, and the blank goes on beyond it.</summary>
    public double TipIsGuide { get; init; }
}

/// <summary>A place and what all places together say of it.</summary>
/// <param name="Place">The candidate.</param>
/// <param name="InUse">Whether it is one of the rings.</param>
/// <param name="Probability">That a guide stands there, 0 to 1.</param>
internal sealed record WeighedPlace(RingCandidate Place, bool InUse, double Probability);
