using DeflectScan.Findings;
using DeflectScan.Numerics;
using MathNet.Numerics.Distributions;

namespace DeflectScan.Proving;

/// <summary>
/// Holds a measurement against readings by hand: E_n of each (ISO 13528, ISO/IEC 17043), chi-square of the whole with the figures' correlations (JCGM 100:2008,
/// 5.2; readings and photo may be correlated within, not between), and what would explain a contradiction best.
/// </summary>
public static class ProofRule
{
    /// <summary>Fewer readings prove nothing: one of them may fit by chance.</summary>
    public const int LeastReadings = 3;

    /// <summary>Less probable than this by chance is a contradiction: the 95 % of all uncertainties here.</summary>
    private const double Contradiction = 0.05;

    /// <summary>A two-sided test at 5 % finds in 95 % what is this many standard uncertainties off: 1.960 + 1.645 of the normal law.</summary>
    private const double SurelySeen = 3.605;

    /// <summary>The proof, or why there is none.</summary>
    /// <param name="measurement">With its covariance.</param>
    /// <param name="readings">At least one; several of the same thing are put together.</param>
    public static Outcome<ProofReport> Of(Measurement measurement, IReadOnlyList<HandReading> readings)
    {
        Outcome<PhotoFigures> figures = PhotoFigures.Of(measurement);
        if (figures.Value is not { } photo)
            return Outcome<ProofReport>.Refused(figures.Findings);
        if (readings.Count == 0)
            return Refused("There are no readings: give a station, a gap or a file of them.");
        foreach (HandReading r in readings)
        {
            if (photo.Problem(r) is { } problem)
                return Refused(problem);
        }

        IReadOnlyList<HandReading> together = RepeatedReadings.Together(readings);
        if (ReadingsModel.Of(photo, together) is not { } model)
            return Refused("The measurement document is damaged: its covariance is none. Measure the photo again.");
        ComparedReading[] compared = [.. together.Select((r, i) => new ComparedReading(r, model.PhotoMm[i], ReadingsModel.Coverage * model.PhotoSdMm[i]))];
        double probability = 1 - ChiSquared.CDF(model.Count, model.ChiSquare);
        (IReadOnlyList<NamedCause> causes, double logRatio) = CauseSearch.Of(model, photo, together);
        ProofVerdict verdict = logRatio >= Math.Log(ProofReport.TellsApart) || probability < Contradiction ? ProofVerdict.Disagree
            : compared.Length < LeastReadings || compared.All(r => r.IsRough) ? ProofVerdict.TooRough
            : ProofVerdict.Agree;
        return Outcome<ProofReport>.Of(new ProofReport(compared, model.ChiSquare, probability, verdict, causes, ShowsScalePercent(model)) { CauseRatio = Math.Exp(Math.Min(logRatio, 700)) });

        static Outcome<ProofReport> Refused(string message) => Outcome<ProofReport>.Refused(FindingCode.FileUnreadable, message);
    }

    private static double ShowsScalePercent(ReadingsModel model)
    {
        int n = model.Count;
        double information = Enumerable.Range(0, n).Sum(i => model.PhotoMm[i] * Vectors.Dot(model.Inverse.AsSpan(i * n, n), model.PhotoMm));
        return 100 * SurelySeen / Math.Sqrt(information);
    }
}
