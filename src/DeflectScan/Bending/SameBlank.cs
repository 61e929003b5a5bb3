using DeflectScan.Findings;
using DeflectScan.Mechanics.Stiffness;
using MathNet.Numerics.Distributions;
using MathNet.Numerics.LinearAlgebra;

namespace DeflectScan.Bending;

/// <summary>
/// Whether photos can be of one blank, as a question of chance: thickness along the blank, and how its stiffness falls towards the tip, must agree within
/// their uncertainties. What chance hardly explains goes to review, what it does not is refused, since figures of two rods mixed are of neither.
/// </summary>
internal static class SameBlank
{
    private const double ReviewChance = 0.003;
    private const double RefuseChance = 1e-6;
    private const int Stations = 8;

    /// <summary>
    /// Standard uncertainty in mm of a photo's diameters in common: light and the camera's sharpening move both edges, by about 0.1 mm where nothing
    /// corrected it (see PrintSharpness). Photos of one rod in one light differ by a few hundredths.
    /// </summary>
    private const double CommonSdMm = 0.1;

    /// <summary>The same of what changes along the blank, as backgrounds do, over some <see cref="FadesOverMm"/>.</summary>
    private const double OwnSdMm = 0.06;
    private const double FadesOverMm = 300;

    /// <summary>What is to be said of a further photo; where it can be of the same blank, a note on how far blanks may differ and still pass for one.</summary>
    /// <param name="here">The reference document.</param>
    /// <param name="there">Another photo's.</param>
    /// <param name="hereAlone">The blank as the reference alone tells it; null where it tells nothing, or the other is at rest.</param>
    /// <param name="thereAlone">As the other alone tells it.</param>
    public static Finding Against(Measurement here, Measurement there, StiffnessEstimate? hereAlone, StiffnessEstimate? thereAlone)
    {
        (double thickChance, string thick, double leastMm) = Thickness(here, there);
        TaperComparison? taper = hereAlone is null || thereAlone is null ? null : TaperComparison.Of(hereAlone, thereAlone);
        double taperChance = taper is null ? 1 : 1 - ChiSquared.CDF(taper.Freedom, taper.SumOfSquares);
        string[] differ =
        [
            .. thickChance < ReviewChance ? (string[])[thick] : [],
            .. taperChance < ReviewChance ? (string[])[$"its stiffness falls otherwise towards the tip, by up to {100 * taper!.LargestShare:0} %"] : [],
        ];
        if (differ.Length == 0)
        {
            string stiffness = taper is { SlopeSquares: > 0 }
                ? $", or whose stiffness falls otherwise by about {100 * (Math.Exp(Math.Sqrt(ChiSquared.InvCDF(taper.Freedom, 1 - ReviewChance) / taper.SlopeSquares)) - 1):0} % from end to end"
                : "";
            return Finding.Note(
                FindingCode.GuidesUncertain,
                $"The photos can be of one blank, as far as chance goes. Told apart are blanks that differ by about {leastMm:0.0} mm in thickness all along{stiffness}; those that differ less pass for one: see yourself that it is the same rod.");
        }

        string says = $"These photos are not of one blank, as far as chance goes: in the other photo {string.Join(", and ", differ)}.";
        return Math.Min(thickChance, taperChance) < RefuseChance
            ? Finding.Refuse(FindingCode.GuidesUncertain, $"{says} Give photos of the same rod, or this one alone.")
            : Finding.Review(FindingCode.GuidesUncertain, $"{says} Check that both are of the same rod.");
    }

    private static (double Chance, string Says, double LeastMm) Thickness(Measurement here, Measurement there)
    {
        double length = Math.Min(here.Blank!.TracedLengthMm, there.Blank!.TracedLengthMm);
        double[] at = [.. Enumerable.Range(0, Stations).Select(i => length * (i + 0.5) / Stations)];
        (double Here, double There)[] mm = [.. at.Select(s => (Diameter(here.Blank, s), Diameter(there.Blank, s)))];
        double scaleSd = double.Hypot(here.Calibration?.ScaleUncertaintyPercent ?? 0, there.Calibration?.ScaleUncertaintyPercent ?? 0) / 200;
        Matrix<double> covariance = Matrix<double>.Build.Dense(Stations, Stations, (i, j) =>
            (2 * ((CommonSdMm * CommonSdMm) + (OwnSdMm * OwnSdMm * Math.Exp(-Math.Abs(at[i] - at[j]) / FadesOverMm)))) + (mm[i].Here * mm[j].Here * scaleSd * scaleSd));
        Vector<double> off = Vector<double>.Build.Dense([.. mm.Select(d => d.There - d.Here)]);
        double squares = off * covariance.Cholesky().Solve(off);
        Vector<double> even = Vector<double>.Build.Dense(Stations, 1);
        double leastMm = Math.Sqrt(ChiSquared.InvCDF(Stations, 1 - ReviewChance) / (even * covariance.Cholesky().Solve(even)));
        int most = Enumerable.Range(0, Stations).MaxBy(i => Math.Abs(off[i]));
        return (1 - ChiSquared.CDF(Stations, squares), $"the blank is {mm[most].There:0.0} and not {mm[most].Here:0.0} mm thick {at[most]:0} mm from the tip", leastMm);
    }

    private static double Diameter(BlankReport blank, double stationMm)
    {
        IReadOnlyList<AxisSample> axis = blank.Axis;
        int i = 1;
        while (i < axis.Count - 1 && axis[i].SMm < stationMm)
            i++;
        double t = (stationMm - axis[i - 1].SMm) / (axis[i].SMm - axis[i - 1].SMm);
        return axis[i - 1].DiameterMm + (t * (axis[i].DiameterMm - axis[i - 1].DiameterMm));
    }
}
