namespace DeflectScan.Tracing.Line.Outside;

/// <summary>Something that stands on the blank as a ring does: a narrow stroke away from it.</summary>
/// <param name="Column">Column of its middle.</param>
/// <param name="Station">Its place along the blank, mm.</param>
/// <param name="FootMm">Height from which on it stands out.</param>
/// <param name="TopMm">Height up to which it stands out.</param>
/// <param name="Score">Log-odds that it is a guide, from its look and the company it keeps.</param>
internal sealed record StandingRing(double Column, double Station, double FootMm, double TopMm, double Score)
{
    /// <summary>The part of the score that comes from its keeping with the rod's other rings.</summary>
    public double Company { get; init; }
}
