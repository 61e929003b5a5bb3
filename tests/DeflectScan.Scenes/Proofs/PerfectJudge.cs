using DeflectScan.Proving;
using MathNet.Numerics.LinearAlgebra;

namespace DeflectScan.Scenes.Proofs;

/// <summary>
/// What a judge would find who knows how the proofs of <see cref="SimulatedProof"/> are drawn: each fault's exact size and every way of it, and the covariance of
/// photo and readings. By Neyman and Pearson nobody finds a fault more often at the same share of false alarms, so that this bounds what any program can reach.
/// Guides counted twice are left out (they are found always); a cause fewer can only raise the bound.
/// </summary>
public sealed class PerfectJudge
{
    private readonly Measurement _photo;
    private readonly IReadOnlyList<HandReading> _readings;
    private readonly Matrix<double> _figures; // readings by the photo's figures
    private readonly Matrix<double> _covariance;
    private readonly Matrix<double> _own;
    private readonly Vector<double> _photoMm;
    private readonly Vector<double> _differences;

    private PerfectJudge(Measurement photo, IReadOnlyList<HandReading> readings)
    {
        (_photo, _readings) = (photo, readings);
        FigureCovariance c = photo.Covariance!;
        int n = c.Mm2.Count;
        _figures = Matrix<double>.Build.Dense(readings.Count, n);
        for (int i = 0; i < readings.Count; i++)
        {
            HandReading r = readings[i];
            _figures[i, r.Kind == ReadingKind.Gap ? (n / 2) + r.From - 1 : r.From - 1] = 1;
            if (r is { Kind: ReadingKind.Station, To: { } to })
                _figures[i, to - 1] = -1;
        }

        _covariance = _figures * Matrix<double>.Build.Dense(n, n, c.Of) * _figures.Transpose();
        _own = Matrix<double>.Build.DenseOfDiagonalVector(Vector<double>.Build.Dense(readings.Count, i => Math.Pow(readings[i].UncertaintyMm / 2, 2)));
        _photoMm = _figures * Vector<double>.Build.Dense([.. photo.Guides.Where(g => !g.IsTip).Select(g => g.StationMm), .. photo.Intervals.Select(p => p.GapMm)]);
        _differences = Vector<double>.Build.Dense(readings.Count, i => readings[i].Mm) - _photoMm;
    }

    /// <summary>Logarithms of how many times as probable the readings are with each fault as with none.</summary>
    /// <param name="photo">With its covariance.</param>
    /// <param name="readings">As <see cref="SimulatedProof"/> makes them where no guide is counted twice.</param>
    public static IReadOnlyDictionary<ProofFault, double> LogRatios(Measurement photo, IReadOnlyList<HandReading> readings) => new PerfectJudge(photo, readings).Ratios();

    private Dictionary<ProofFault, double> Ratios()
    {
        Matrix<double> inverse = (_covariance + _own).Inverse();
        double none = LogDensity(_differences, 1);
        CardOffEffect[] cards = [.. _photo.Covariance!.CardsOff];
        Vector<double> pull = inverse * _differences;
        return new()
        {
            [ProofFault.PrintScale] = LogMean([.. Signs.Select(s => 1 + (s * SimulatedProof.PrintShare)).Select(f => LogDensity(_differences - ((f - 1) * _photoMm), f))]) - none,
            [ProofFault.CardOff] = LogMean(
                [.. cards.SelectMany(c => Signs.Select(s => LogDensity(_differences - (s * SimulatedProof.CardOffMm * (_figures * Vector<double>.Build.Dense([.. c.PerMm]))), 1)))]) - none,
            [ProofFault.TensDigit] = Digits([10, 100], inverse, pull),
            [ProofFault.UnitsDigit] = Digits([1], inverse, pull),
        };
    }

    private static double[] Signs => [-1, 1];

    // Up to a constant; the true figures' scatter times a factor.
    private double LogDensity(Vector<double> d, double factor)
    {
        var root = ((factor * factor * _covariance) + _own).Cholesky();
        return -0.5 * (d.DotProduct(root.Solve(d)) + root.DeterminantLn);
    }

    // Of every reading and every digit that may have stood there before.
    private double Digits(double[] places, Matrix<double> inverse, Vector<double> pull)
    {
        int stations = _readings.Count(r => r.Kind == ReadingKind.Station);
        List<double> logs = [];
        for (int i = 0; i < stations; i++)
        {
            foreach (double place in places)
            {
                double read = _readings[i].Mm;
                int stands = (int)(read / place) % 10;
                foreach (int before in Enumerable.Range(0, 10).Where(b => b != stands))
                {
                    double by = (before - stands) * place;
                    double share = read + by < 1 ? 0
                        : (place == 1 ? 1 : SimulatedProof.PlaceShare(read + by, place)) * SimulatedProof.DigitShare(read + by, before, stands, place);
                    if (share > 0)
                        logs.Add(Math.Log(share) - (by * pull[i]) - (0.5 * by * by * inverse[i, i]));
                }
            }
        }

        return LogSum(logs) - Math.Log(stations);
    }

    private static double LogMean(IReadOnlyList<double> logs) => LogSum(logs) - Math.Log(logs.Count);

    private static double LogSum(IReadOnlyList<double> logs) => logs.Max() + Math.Log(logs.Sum(l => Math.Exp(l - logs.Max())));
}
