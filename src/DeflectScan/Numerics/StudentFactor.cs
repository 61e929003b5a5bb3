using MathNet.Numerics.Distributions;

namespace DeflectScan.Numerics;

/// <summary>Student's t for an interval that holds 95 % (JCGM 100:2008, G.3 and table G.2).</summary>
internal static class StudentFactor
{
    /// <param name="freedom">Degrees of freedom, 1 or more.</param>
    public static double Of(double freedom) => StudentT.InvCDF(0, 1, freedom, 0.975);

    /// <summary>The same over that of a known standard deviation.</summary>
    public static double Widening(double freedom) => Of(freedom) / Of(1e6);
}
