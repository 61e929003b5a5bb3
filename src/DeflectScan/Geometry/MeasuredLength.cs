namespace DeflectScan.Geometry;

/// <summary>A length as measured.</summary>
/// <param name="Mm">The length.</param>
/// <param name="UncertaintyMm">Expanded uncertainty, 95 %.</param>
public readonly record struct MeasuredLength(double Mm, double UncertaintyMm);
