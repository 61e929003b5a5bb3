namespace DeflectScan.Tracing.Reading;

/// <summary>The most probable rings of a rod.</summary>
/// <param name="Inside">Whether they stand on the inside of the bend.</param>
/// <param name="Rings">From the tip to the reel, the tip-top's not among them.</param>
/// <param name="TipTop">Where the line touches the tip-top's ring; null where nothing like one was read.</param>
/// <param name="Probability">That these and no others are the guides, 0 to 1.</param>
/// <param name="SideProbability">That they stand on that side, 0 to 1.</param>
/// <param name="Doubtful">Places where a ring is in use, or is not, that may not be so, the most doubtful first.</param>
internal sealed record DecodedRings(
    bool Inside,
    IReadOnlyList<RingCandidate> Rings,
    RingCandidate? TipTop,
    double Probability,
    double SideProbability,
    IReadOnlyList<DoubtfulRing> Doubtful);

/// <summary>A place that may be read otherwise.</summary>
/// <param name="Place">The candidate.</param>
/// <param name="InUse">Whether it is one of the rings.</param>
/// <param name="Probability">That a guide stands there, all that is known together, 0 to 1.</param>
internal sealed record DoubtfulRing(RingCandidate Place, bool InUse, double Probability);
