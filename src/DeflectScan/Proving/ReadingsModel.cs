using DeflectScan.Numerics;

namespace DeflectScan.Proving;

/// <summary>
/// Readings against the photo's figures as one linear model: differences d, reading minus photo, with the covariance V of both, normal (JCGM 100:2008, 5.2). The
/// photo's errors are correlated as the document says, the readings' are their own.
/// </summary>
internal sealed class ReadingsModel
{
    /// <summary>Stated uncertainties are expanded by this factor: JCGM 100:2008, 6.3.3.</summary>
    public const double Coverage = 2;

    /// <summary>Standard deviation, mm, of a gap that the photo has no figure for.</summary>
    private const double UnknownGapSdMm = 15;

    private readonly double[] _root;
    private readonly double _logDeterminant;

    private ReadingsModel(double[] photoMm, double[] photoSdMm, double[] differencesMm, IReadOnlyList<(int Figure, double Weight)>[] weights, double[] root)
    {
        (PhotoMm, PhotoSdMm, DifferencesMm, Weights, _root) = (photoMm, photoSdMm, differencesMm, weights, root);
        int n = photoMm.Length;
        Inverse = Cholesky.Inverse(root, n);
        _logDeterminant = Cholesky.LogDeterminant(root, n);
        ChiSquare = ChiSquareOf(differencesMm);
    }

    /// <summary>What the photo says, a number a reading.</summary>
    public double[] PhotoMm { get; }

    /// <summary>Its standard uncertainty.</summary>
    public double[] PhotoSdMm { get; }

    /// <summary>Reading minus photo.</summary>
    public double[] DifferencesMm { get; }

    /// <summary>Each reading's figure as weights of the photo's.</summary>
    public IReadOnlyList<(int Figure, double Weight)>[] Weights { get; }

    /// <summary>V⁻¹, row by row.</summary>
    public double[] Inverse { get; }

    /// <summary>dᵀ V⁻¹ d.</summary>
    public double ChiSquare { get; }

    public int Count => PhotoMm.Length;

    /// <summary>The model; null where the document's covariance is none.</summary>
    /// <param name="photo">The photo's figures.</param>
    /// <param name="readings">Each of another thing.</param>
    /// <param name="renumber">From a reading's guide to the photo's; null: the same.</param>
    public static ReadingsModel? Of(PhotoFigures photo, IReadOnlyList<HandReading> readings, Func<int, int>? renumber = null)
    {
        int n = readings.Count;
        (IReadOnlyList<(int Figure, double Weight)> Weights, double ExtraSdMm)[] rows = [.. readings.Select(r => Row(photo, r, renumber))];
        double[] values = [.. rows.Select(r => photo.Value(r.Weights))];
        double[] v = new double[n * n];
        double[] own = new double[n];
        for (int i = 0; i < n; i++)
        {
            for (int j = 0; j <= i; j++)
                v[(i * n) + j] = v[(j * n) + i] = photo.Covariance(rows[i].Weights, rows[j].Weights);
            own[i] = v[(i * n) + i];
            v[(i * n) + i] += Math.Pow(readings[i].UncertaintyMm / Coverage, 2) + (rows[i].ExtraSdMm * rows[i].ExtraSdMm);
        }

        return own.All(o => o >= 0) && Cholesky.Factor(v, n) is { } root
            ? new ReadingsModel(values, [.. own.Select(Math.Sqrt)], [.. readings.Select((r, i) => r.Mm - values[i])], [.. rows.Select(r => r.Weights)], root)
            : null;
    }

    public double ChiSquareOf(double[] differences)
    {
        double[] white = Cholesky.Forward(_root, Count, differences);
        return white.Sum(w => w * w);
    }

    /// <summary>Logarithm of the readings' probability density.</summary>
    public double LogDensity => -0.5 * (ChiSquare + _logDeterminant + (Count * Math.Log(2 * Math.PI)));

    private static (IReadOnlyList<(int Figure, double Weight)> Weights, double ExtraSdMm) Row(PhotoFigures photo, HandReading r, Func<int, int>? renumber)
    {
        if (renumber is null)
            return (photo.Weights(r.Kind, r.From, r.To), 0);
        int tip = photo.Guides + 1;
        int from = renumber(r.From);
        int to = r.To is { } guide ? renumber(guide) : tip;
        if (r.Kind == ReadingKind.Station)
            return from == to ? ([], 0) : (photo.Weights(r.Kind, from, to), 0);
        (int low, int high) = (Math.Min(from, to), Math.Max(from, to));
        if (high - low == 1)
            return (photo.Weights(r.Kind, low, high), 0);
        int[] spanned = high == low ? [low] : [.. Enumerable.Range(low, high - low)];
        return ([.. spanned.Select(g => (photo.Guides + g - 1, 1.0 / spanned.Length))], UnknownGapSdMm);
    }
}
