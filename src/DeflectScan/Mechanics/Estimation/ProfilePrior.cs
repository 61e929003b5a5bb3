using MathNet.Numerics.LinearAlgebra;
using MathNet.Numerics.LinearAlgebra.Factorization;

namespace DeflectScan.Mechanics.Estimation;

/// <summary>
/// What is believed of q before any photo, a sum of three parts. A smooth one, nearly straight, whose ∫q''² has a weight λ that is sought.
/// Small changes from coefficient to coefficient (wraps, joints), independent, of a given share. And the overall form of a taper: Legendre
/// polynomials of degree 2 to 4 of given size, for a blank's taper bends mostly one way all along, which independent q'' would call
/// unlikely, and would rather explain by weight or set. The first two have the precision
/// P(λ) = D^(-1/2) U diag(λρ / (1 + λρ)) Uᵀ D^(-1/2), with D the variance of the small changes and ρ, U the eigenvalues and vectors of
/// D^(1/2) R D^(1/2), R the roughness; the third comes in by Woodbury's formula. Straight lines stay free.
/// </summary>
internal sealed class ProfilePrior
{
    private readonly double[] _sizes;
    private readonly Matrix<double> _ways;
    private readonly int _free;
    private readonly Matrix<double> _forms;
    private readonly Dictionary<double, (double[] Precision, double LogDeterminant)> _known = [];

    // Standard deviations of degrees 2, 3 and 4 as shares of the mean of q. Common practice, no source: tapers from slow to fast lie within.
    private static readonly double[] FormSds = [0.2, 0.1, 0.05];

    /// <param name="basis">The splines of q.</param>
    /// <param name="sds">Standard deviation of the small changes, a coefficient.</param>
    /// <param name="meanWidth">Mean of q, which the sizes of the overall form go by.</param>
    public ProfilePrior(CubicBasis basis, double[] sds, double meanWidth)
    {
        double[] roughness = basis.Roughness();
        int n = sds.Length;
        _forms = Forms(basis, meanWidth);
        Count = n;
        Matrix<double> scaled = Matrix<double>.Build.Dense(n, n, (i, j) => sds[i] * roughness[(i * n) + j] * sds[j]);
        Evd<double> evd = scaled.Evd(Symmetricity.Symmetric);
        double[] sizes = [.. evd.EigenValues.Select(v => Math.Max(0, v.Real))];

        // The straight lines: the two smallest, zero but for rounding.
        _free = 2;
        sizes[0] = sizes[1] = 0;
        _sizes = sizes;
        _ways = Matrix<double>.Build.Dense(n, n, (i, j) => evd.EigenVectors[i, j] / sds[i]);
    }

    public int Count { get; }

    /// <summary>All three parts together: the precision, row by row, and ln of its determinant over what is not free, up to a constant. Kept, since a search asks again.</summary>
    public (double[] Precision, double LogDeterminant) At(double weight)
    {
        if (!_known.TryGetValue(weight, out (double[] Precision, double LogDeterminant) known))
            _known[weight] = known = Compute(weight);
        return known;
    }

    private (double[] Precision, double LogDeterminant) Compute(double weight)
    {
        Matrix<double> p = WithoutForm(weight);
        Matrix<double> pc = p * _forms;
        Matrix<double> inner = Matrix<double>.Build.DenseIdentity(FormSds.Length) + _forms.TransposeThisAndMultiply(pc);
        p -= pc * inner.Inverse() * pc.Transpose();
        double[] all = new double[Count * Count];
        for (int i = 0; i < Count; i++)
        {
            for (int j = 0; j < Count; j++)
                all[(i * Count) + j] = 0.5 * (p[i, j] + p[j, i]);
        }

        return (all, _sizes.Skip(_free).Sum(s => Math.Log(weight * s / (1 + (weight * s)))) - Math.Log(inner.Determinant()));
    }

    private Matrix<double> WithoutForm(double weight)
    {
        Matrix<double> scaled = Matrix<double>.Build.Dense(
            Count, Count, (i, k) => k < _free ? 0 : _ways[i, k] * Math.Sqrt(weight * _sizes[k] / (1 + (weight * _sizes[k]))));
        return scaled.TransposeAndMultiply(scaled);
    }

    // Spline coefficients of the Legendre polynomials of degree 2 to 4 over the length, times their sizes, by least squares.
    private static Matrix<double> Forms(CubicBasis basis, double meanWidth)
    {
        int n = basis.Count;
        const int Samples = 400;
        Matrix<double> values = Matrix<double>.Build.Dense(Samples + 1, n);
        Matrix<double> forms = Matrix<double>.Build.Dense(Samples + 1, FormSds.Length);
        Span<double> b = stackalloc double[4];
        for (int i = 0; i <= Samples; i++)
        {
            double share = (double)i / Samples;
            double u = (2 * share * share) - 1;
            int first = basis.At(basis.LengthMm * (u + 1) / 2, b);
            for (int k = 0; k < 4; k++)
                values[i, first + k] = b[k];
            double[] legendre = [((3 * u * u) - 1) / 2, ((5 * u * u * u) - (3 * u)) / 2, ((35 * u * u * u * u) - (30 * u * u) + 3) / 8];
            for (int k = 0; k < FormSds.Length; k++)
                forms[i, k] = legendre[k] * FormSds[k] * meanWidth;
        }

        return values.TransposeThisAndMultiply(values).Cholesky().Solve(values.TransposeThisAndMultiply(forms));
    }
}
