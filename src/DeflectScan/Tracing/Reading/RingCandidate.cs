namespace DeflectScan.Tracing.Reading;

/// <summary>A place where the line may touch a ring, as read from the strip.</summary>
/// <param name="Station">Along the axis from its end at the tip, mm; negative beyond it.</param>
/// <param name="HeightMm">From the axis, positive to the inside of the bend.</param>
/// <param name="LogOdds">Natural log-odds that a ring is touched there.</param>
internal sealed record RingCandidate(double Station, double HeightMm, double LogOdds)
{
    /// <summary>Probability, 0 to 1.</summary>
    public double Probability => 1 / (1 + Math.Exp(-LogOdds));
}
