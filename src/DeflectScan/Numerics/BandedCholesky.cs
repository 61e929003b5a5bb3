namespace DeflectScan.Numerics;

/// <summary>
/// Square roots of symmetric positive matrices with three bands beside the diagonal, in linear time and place: MathNet's factors are of full matrices.
/// </summary>
internal static class BandedCholesky
{
    /// <summary>Bands beside the diagonal.</summary>
    public const int Side = 3;

    /// <summary>Turns a matrix into its lower factor, in place.</summary>
    /// <param name="band">Row by row the lower half: entries (i, i - 3) to (i, i); what lies outside of the matrix is not read.</param>
    /// <param name="n">Rows.</param>
    public static void Factor(double[] band, int n)
    {
        for (int i = 0; i < n; i++)
        {
            for (int j = Math.Max(0, i - Side); j <= i; j++)
            {
                double sum = band[(i * (Side + 1)) + Side - i + j];
                for (int k = Math.Max(0, i - Side); k < j; k++)
                    sum -= band[(i * (Side + 1)) + Side - i + k] * (k >= j - Side ? band[(j * (Side + 1)) + Side - j + k] : 0);
                band[(i * (Side + 1)) + Side - i + j] = i == j ? Math.Sqrt(Math.Max(sum, 1e-300)) : sum / band[(j * (Side + 1)) + Side];
            }
        }
    }

    /// <summary>Turns a right-hand side into the solution, in place.</summary>
    public static void Solve(double[] factor, double[] right)
    {
        int n = right.Length;
        for (int i = 0; i < n; i++)
        {
            double sum = right[i];
            for (int k = Math.Max(0, i - Side); k < i; k++)
                sum -= factor[(i * (Side + 1)) + Side - i + k] * right[k];
            right[i] = sum / factor[(i * (Side + 1)) + Side];
        }

        for (int i = n - 1; i >= 0; i--)
        {
            double sum = right[i];
            for (int k = i + 1; k <= Math.Min(n - 1, i + Side); k++)
                sum -= factor[(k * (Side + 1)) + Side - k + i] * right[k];
            right[i] = sum / factor[(i * (Side + 1)) + Side];
        }
    }
}
