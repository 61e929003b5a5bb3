namespace DeflectScan.Proving;

/// <summary>What one thing may be wrong where readings and photo contradict each other.</summary>
public enum ProofCause
{
    /// <summary>The cards were not printed at the size that the measurement was told.</summary>
    PrintScale,

    /// <summary>One card stood off the rod's plane.</summary>
    CardOff,

    /// <summary>The tip-top's ring, from which stations count, is not where the photo has it.</summary>
    TipPlace,

    /// <summary>One guide is not where the photo has it.</summary>
    GuidePlace,

    /// <summary>One guide was counted twice or passed over, in the photo or at the rod: the numbers beyond it do not belong together.</summary>
    GuideCount,

    /// <summary>One reading was written down wrongly: a digit, an inch.</summary>
    SlipOfPen,
}

/// <summary>A cause with what speaks for it.</summary>
/// <param name="Cause">Which.</param>
/// <param name="Share">Its probability among the causes that are looked at, one of them being true; each is as likely as any other before the readings.</param>
/// <param name="ChiSquareExplained">By how much it lowers the whole's chi-square.</param>
/// <param name="Guide">The guide that it is of, where it is of one.</param>
/// <param name="Card">The card, where it is of one.</param>
/// <param name="Says">What it would be, one sentence, lengths in mm.</param>
/// <param name="Do">What to do about it, one sentence.</param>
public sealed record NamedCause(ProofCause Cause, double Share, double ChiSquareExplained, int? Guide, char? Card, string Says, string Do);
