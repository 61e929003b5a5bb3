using System.Diagnostics.CodeAnalysis;
using MathNet.Numerics.LinearAlgebra;
using MathNet.Numerics.LinearAlgebra.Factorization;

namespace DeflectScan.Numerics;

/// <summary>Cholesky factors as a question: measurements that fix nothing give a matrix that has none, which is no broken contract.</summary>
internal static class PositiveDefinite
{
    public static bool TryFactor(Matrix<double> m, [NotNullWhen(true)] out Cholesky<double>? factor)
    {
        try
        {
            factor = m.Enumerate().All(double.IsFinite) ? m.Cholesky() : null;
        }
        catch (ArgumentException) // how the library says "not positive definite"
        {
            factor = null;
        }

        return factor is not null;
    }
}
