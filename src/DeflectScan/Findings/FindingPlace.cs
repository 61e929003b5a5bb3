namespace DeflectScan.Findings;

/// <summary>A place on the blank that a finding is about, stations in mm from the tip: a stretch, or a point, of which both are the same.</summary>
/// <param name="FromMm">The end nearer the tip.</param>
/// <param name="ToMm">The other one.</param>
public readonly record struct FindingPlace(double FromMm, double ToMm)
{
    /// <summary>A point. What lies beyond the blank's end is said of the end.</summary>
    public static FindingPlace At(double stationMm) => new(Math.Max(0, stationMm), Math.Max(0, stationMm));

    /// <summary>Its middle, where it is marked.</summary>
    public double MiddleMm => (FromMm + ToMm) / 2;
}
