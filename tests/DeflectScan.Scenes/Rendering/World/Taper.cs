namespace DeflectScan.Scenes.Rendering.World;

/// <summary>A blank's outer diameter and relative bending stiffness along its length, s from the butt.</summary>
/// <param name="LengthMm">Length from butt to tip.</param>
/// <param name="ButtMm">Outer diameter at the butt.</param>
/// <param name="TipMm">Outer diameter at the tip.</param>
/// <param name="Fullness">Exponent of the taper: 1 a cone, below 1 fuller in the middle.</param>
/// <param name="StiffnessPower">EI grows with the diameter to this power: 3 for a thin wall of constant thickness, 4 for a solid or a wall in proportion; 0 makes EI uniform.</param>
public sealed record Taper(double LengthMm, double ButtMm, double TipMm, double Fullness, double StiffnessPower)
{
    public double DiameterMm(double s)
    {
        double left = Math.Clamp(1 - (s / LengthMm), 0, 1);
        return TipMm + ((ButtMm - TipMm) * Math.Pow(left, Fullness));
    }

    public double RadiusMm(double s) => DiameterMm(s) / 2;

    /// <summary>EI(s) / EI(butt).</summary>
    public double Stiffness(double s) => Math.Pow(DiameterMm(s) / ButtMm, StiffnessPower);
}
