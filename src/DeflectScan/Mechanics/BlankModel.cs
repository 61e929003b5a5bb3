namespace DeflectScan.Mechanics;

/// <summary>A mass that hangs on the blank at one place: a guide with its wrap, a tip-top.</summary>
/// <param name="StationMm">Arc length from the tip in mm, 0 to the blank's free length.</param>
/// <param name="WeightN">Weight in newton (grams times 0.00980665).</param>
public sealed record PointWeight(double StationMm, double WeightN);

/// <summary>
/// The free part of a blank, from the tip (station 0) to the clamp (station <see cref="LengthMm"/>), as a beam that bends but neither
/// stretches nor shears: planar Euler-Bernoulli elastica.
/// </summary>
/// <param name="LengthMm">Free length in mm from the tip to where it is clamped; positive.</param>
/// <param name="StiffnessNmm2">Bending stiffness EI in N·mm² at a station in mm from the tip; positive everywhere.</param>
public sealed record BlankModel(double LengthMm, Func<double, double> StiffnessNmm2)
{
    /// <summary>
    /// Curvature in 1/mm of the unloaded, weightless blank at a station: the rate at which the tangent (which points to the tip) turns
    /// counter-clockwise on the way to the tip. 0 unless given.
    /// </summary>
    public Func<double, double> NaturalCurvaturePerMm { get; init; } = static _ => 0;

    /// <summary>Weight a length in N/mm at a station; 0 unless given.</summary>
    public Func<double, double> WeightPerMmN { get; init; } = static _ => 0;

    /// <summary>True when <see cref="WeightPerMmN"/> was given.</summary>
    public bool HasWeight { get; init; }

    public IReadOnlyList<PointWeight> PointWeights { get; init; } = [];

    /// <summary>Stations in mm where stiffness or natural curvature jump (an end of a ferrule): the solver puts a step's end there.</summary>
    public IReadOnlyList<double> JumpsMm { get; init; } = [];

    /// <summary>A blank of one stiffness all along.</summary>
    public static BlankModel Uniform(double lengthMm, double stiffnessNmm2) => new(lengthMm, _ => stiffnessNmm2);

    /// <summary>The same blank with a weight a length in N/mm.</summary>
    public BlankModel WithWeight(Func<double, double> weightPerMmN) => this with { WeightPerMmN = weightPerMmN, HasWeight = true };
}
