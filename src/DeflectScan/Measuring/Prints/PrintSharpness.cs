using DeflectScan.Calibration;
using DeflectScan.Geometry;
using DeflectScan.Numerics;
using DeflectScan.Photos;
using MathNet.Numerics.LinearAlgebra;

namespace DeflectScan.Measuring.Prints;

/// <summary>
/// What the cards' print says of how the photo was blurred and then sharpened: a step in linear light, seen by pixels of one pixel's width under
/// a Gaussian blur, coded (sRGB), then an unsharp mask, laid on the mean edge by least squares.
/// </summary>
/// <param name="BlurPx">Sigma of the blur before sharpening, px; a pixel's own width is part of it.</param>
/// <param name="Mask">The mask that fits best.</param>
/// <param name="MisfitShare">Root mean square of what the model leaves, as a share of the step from black to white.</param>
internal sealed record PrintSharpness(double BlurPx, UnsharpMask Mask, double MisfitShare)
{
    private const double StepPx = 0.125;
    private const double MostMisfit = 0.01; // the edge is another than the model's
    private const double SdLevels = 1.5; // of a bin's mean: uneven light, print and compression
    private const double PixelVariance = 1 / 12.0;
    private const double BeyondPx = 4; // the blur's reach past the bins

    // Amount and radius are hardly told apart by one edge, and undo it alike: a radius must be clearly better than those before it.
    private const double ClearlyBetter = 0.95;
    private static readonly double[] RadiiPx = [1.2, 0.8, 1.8];

    /// <summary>The fit; null where the cards are too small or their edge is not like the model's.</summary>
    public static PrintSharpness? Of(UprightPhoto photo, RodPlane plane, IReadOnlyList<SolvedCard> cards) =>
        PrintEdge.Of(photo, plane, cards) is { } edge ? Of(edge) : null;

    /// <summary>The fit to one mean edge.</summary>
    public static PrintSharpness? Of(PrintEdge edge)
    {
        int n = edge.Levels.Count;
        double black = edge.Levels[0];
        double white = edge.Levels[n - 1];
        if (white - black < 40)
            return null;
        PrintSharpness? best = null;
        foreach (double radius in RadiiPx)
        {
            EdgeModel model = new(edge.DistancesPx, radius);
            // Pairs of bins stand for the points with two residuals that the solver takes.
            int pairs = n / 2;
            RobustProblem problem = new(
                5,
                pairs,
                (x, r) =>
                {
                    model.Fill(x);
                    for (int i = 0; i < 2 * pairs; i++)
                        r[i] = model.Levels[i] - edge.Levels[i];
                },
                Vector<double>.Build.Dense([0.6, 0.2, 0, black, white]),
                Matrix<double>.Build.DenseOfDiagonalArray([4, 1, 4, 1e-6, 1e-6]),
                [1e-3, 1e-3, 1e-3, 0.05, 0.05]);
            RobustFit fit = LeastSquares.Minimise(problem, [0.6, 0.2, 0, black, white], SdLevels);
            double misfit = Math.Sqrt(fit.ResidualsPx.Sum(r => r * r) / fit.ResidualsPx.Length) / (white - black);
            if (misfit < (best is null ? MostMisfit : ClearlyBetter * best.MisfitShare))
                best = new PrintSharpness(Math.Sqrt((fit.X[0] * fit.X[0]) + PixelVariance), new UnsharpMask(Math.Max(0, fit.X[1]), radius), misfit);
        }

        return best;
    }

    /// <summary>The edge by the model: unknowns are blur sigma, amount, place (px, positive towards white) and the coded levels of black and white.</summary>
    private sealed class EdgeModel
    {
        private readonly IReadOnlyList<double> _at;
        private readonly double _from;
        private readonly double[] _fine;
        private readonly double[] _gauss;

        public EdgeModel(IReadOnlyList<double> at, double radiusPx)
        {
            _at = at;
            _from = at[0] - BeyondPx;
            _fine = new double[(int)Math.Round((at[^1] + BeyondPx - _from) / StepPx) + 1];
            int reach = (int)(3.5 * radiusPx / StepPx);
            _gauss = [.. Enumerable.Range(0, reach + 1).Select(k => Math.Exp(-k * k * StepPx * StepPx / (2 * radiusPx * radiusPx)))];
            double sum = _gauss[0] + (2 * _gauss[1..].Sum());
            _gauss = [.. _gauss.Select(g => g / sum)];
            Levels = new double[at.Count];
        }

        public double[] Levels { get; }

        public void Fill(double[] x)
        {
            double black = CodedLight.Linear(x[3] / 255);
            double white = CodedLight.Linear(x[4] / 255);
            double sigma = Math.Max(0.05, Math.Abs(x[0]));
            for (int i = 0; i < _fine.Length; i++)
            {
                double z = (_from + (i * StepPx) - x[2]) / sigma;
                _fine[i] = 255 * CodedLight.Coded(black + ((white - black) * sigma * (NormalLaw.Ramp(z + (0.5 / sigma)) - NormalLaw.Ramp(z - (0.5 / sigma)))));
            }

            for (int i = 0; i < Levels.Length; i++)
            {
                int k = (int)Math.Round((_at[i] - _from) / StepPx);
                double blurred = _gauss[0] * _fine[k];
                for (int j = 1; j < _gauss.Length; j++)
                    blurred += _gauss[j] * (_fine[Math.Max(0, k - j)] + _fine[Math.Min(_fine.Length - 1, k + j)]);
                Levels[i] = Math.Clamp(_fine[k] + (x[1] * (_fine[k] - blurred)), 0, 255);
            }
        }
    }
}
