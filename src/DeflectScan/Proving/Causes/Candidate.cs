namespace DeflectScan.Proving;

/// <summary>One way in which a cause may act: this card, that guide, that reading.</summary>
/// <param name="LogEvidence">Logarithm of how much more probable the readings are with it, times how likely this way is among the cause's.</param>
/// <param name="ChiSquareLeft">Of the differences that it leaves.</param>
/// <param name="Guide">The guide that it is of, if any.</param>
/// <param name="Card">The card, if any.</param>
/// <param name="Says">A sentence.</param>
/// <param name="Do">Another one.</param>
internal sealed record Candidate(double LogEvidence, double ChiSquareLeft, int? Guide, char? Card, Func<string> Says, Func<string> Do)
{
    /// <summary>"card A", "guide 3": what tells it from the cause's other ways; empty where there is one alone.</summary>
    public string Which { get; init; } = "";
}
