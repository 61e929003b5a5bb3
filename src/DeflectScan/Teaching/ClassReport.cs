namespace DeflectScan.Teaching;

/// <summary>Where guides stand on rods with the same blank, and how far the students differ. mm.</summary>
/// <param name="Guides">How many guides the rods put together have, the tip-top not counted.</param>
/// <param name="Rods">How many rods are in it.</param>
/// <param name="StationsMm">Mean stations from the reel to the tip-top's ring.</param>
/// <param name="SpreadsMm">Standard deviations over the rods; null with fewer than two.</param>
/// <param name="BowsMm">Mean bow of each pair.</param>
public sealed record MeanLayout(int Guides, int Rods, IReadOnlyList<double> StationsMm, IReadOnlyList<double?> SpreadsMm, IReadOnlyList<double> BowsMm);

/// <summary>A class put side by side.</summary>
/// <param name="Options">How it is looked at.</param>
/// <param name="Rods">In the order asked for; rods without figures last.</param>
/// <param name="Reference">The instructor's own rod; null for none.</param>
/// <param name="Mean">The layouts put together; null where the blanks differ or none can be.</param>
/// <param name="StandsOut">What stands out, a sentence each, lengths in mm.</param>
public sealed record ClassReport(ClassOptions Options, IReadOnlyList<ClassRod> Rods, ClassRod? Reference, MeanLayout? Mean, IReadOnlyList<string> StandsOut)
{
    /// <summary>The longest blank of all, mm: the board's one scale.</summary>
    public double LongestMm => Strips.Select(s => s.LengthMm).DefaultIfEmpty(1000).Max();

    public double TallestMm => Strips.Select(s => s.TallestMm).DefaultIfEmpty(20).Max();

    public double TallestRunningMm => Strips.Select(s => s.TallestRunningMm).DefaultIfEmpty(10).Max();

    public double DeepestMm => Math.Max(Strips.Select(s => s.DeepestMm).DefaultIfEmpty(5).Max(), Rods.Max(r => r.TargetMm) ?? 0);

    private IEnumerable<RodStrip> Strips => Rods.Append(Reference).Select(r => r?.Strip).OfType<RodStrip>();
}
