using DeflectScan.Calibration;
using DeflectScan.Calibration.Cards;
using DeflectScan.Geometry;
using DeflectScan.Geometry.Propagation;
using DeflectScan.Layout;
using DeflectScan.Measuring;
using DeflectScan.Measuring.Figures;
using DeflectScan.Scenes.Propagation;
using MathNet.Numerics.LinearAlgebra;
using Xunit.Abstractions;

namespace DeflectScan.Tests.Uncertainty;

/// <summary>
/// Linear propagation of the plane's covariance to every figure against drawing planes at random from the whole covariance, all unknowns of
/// the adjustment together (JCGM 101:2008): standard uncertainties within 10 %.
/// </summary>
public class MonteCarloChainTests(ITestOutputHelper output)
{
    [Theory]
    [InlineData("clean-spinning")]
    public void LinearPropagationAgreesWithDrawing(string name)
    {
        const int Draws = 1000; // the drawn uncertainty itself is known to 2.2 %
        TrueTrace chain = new(name);
        LensPrior lens = LensPrior.For(chain.Info, CalibrationOptions.Default);
        CardSighting[] cards = [.. chain.Cards.OrderByDescending(c => c.SquarePx * c.Corners.Count)];
        PlaneFit fit = PlaneFit.Solve(cards, lens, CalibrationOptions.Default, out _)!;
        double[,] covariance = fit.Fit.Information.Inverse().ToArray();
        double[,] root = LinearPropagation.Root(covariance);
        Vec2 middle = new((chain.Info.WidthPx - 1) / 2.0, (chain.Info.HeightPx - 1) / 2.0);
        IReadOnlyList<DrawnFigure> drawn = new MonteCarlo(5).Draw(
            m =>
            {
                double[] x = m.Normals(fit.Fit.X, root);
                RodPlane plane = PlaneFrame.Of(fit.Problem.Camera(x), fit.Problem.Homography(x), middle).Plane;
                return LayoutFigures.Of(chain.Trace.CarriedTo(plane, chain.Solution.Plane), GuideSide.Inside).Row();
            },
            Draws);

        Propagated<UncertaintyCause> linear = new(chain.Figures.Row());
        for (int k = 0; k < chain.Solution.Plane.Variants.Count; k++)
            linear.Displace(chain.Solution.Plane.VariantCauses[k], LayoutFigures.Of(chain.Trace.CarriedTo(chain.Solution.Plane.Variants[k], chain.Solution.Plane), GuideSide.Inside).Row());
        double worst = 0;
        int compared = 0;
        for (int i = 0; i < drawn.Count; i++)
        {
            if (drawn[i].Sd < 0.004) // mm: a hundredth of what tracing makes
                continue;
            compared++;
            worst = Math.Max(worst, Math.Abs((linear.Sd(i) / drawn[i].Sd) - 1));
            Assert.True(Math.Abs(linear.Values[i] - drawn[i].Mean) < 0.25 * drawn[i].Sd + 0.001, $"figure {i}: {linear.Values[i]} and {drawn[i].Mean}");
        }

        output.WriteLine($"{name}: {compared} figures, worst difference {100 * worst:0.0} %");
        Assert.True(compared >= 12, $"{compared} figures");
        Assert.InRange(worst, 0, 0.10);
    }

    [Theory]
    [Trait(LongSet.Name, LongSet.Value)]
    [InlineData("one-card")]
    public void LinearPropagationAgreesWithDrawingMore(string name) => LinearPropagationAgreesWithDrawing(name);
}
