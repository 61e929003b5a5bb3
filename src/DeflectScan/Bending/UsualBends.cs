using DeflectScan.Findings;
using DeflectScan.Mechanics;
using DeflectScan.Mechanics.Stiffness;

namespace DeflectScan.Bending;

/// <summary>The bends that are shown where none are asked for: half, one, one and a half and twice the photographed load, but none beyond a square tip.</summary>
public static class UsualBends
{
    /// <summary>
    /// The default request, ended where the tip would turn by 90 degrees (<see cref="BendLimits.SquareTipDeg"/>): nobody is shown a bend by default that tips
    /// break at. The photographed load stays whatever it is.
    /// </summary>
    /// <param name="blank">The estimated blank.</param>
    public static BendRequest For(StiffnessEstimate blank)
    {
        Outcome<PredictedBend> square = BendPredictor.AtTipTurn(blank, BendLimits.SquareTipDeg);
        double most = square.IsRefused ? double.PositiveInfinity : square.Value.LoadFactor;
        List<AskedBend> bends = [.. BendRequest.Default.Bends.Where(b => b.Factor == 1 || b.Factor < most)];
        if (most < BendRequest.Default.Bends[^1].Factor && most > 1)
            bends.Add(AskedBend.Turn(BendLimits.SquareTipDeg));
        return new BendRequest(bends);
    }
}
