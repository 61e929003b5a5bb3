using DeflectScan.Tracing.Blank;
using MathNet.Numerics.Distributions;

namespace DeflectScan.Tests.Tracing.Blank;

/// <summary>What readings of a bar leave open of its middle, against draws of which the truth is known: the middle lies at 0 all along.</summary>
public class EdgeMisfitTests
{
    private const double SpacingMm = 2;
    private const double ReachMm = 50;

    /// <summary>Scattered readings that agree with the fit: no more is open than a median of them scatters from draw to draw.</summary>
    [Fact]
    public void ScatteredReadingsLeaveOpenWhatTheirMedianScatters()
    {
        Random random = new(5);
        List<double> medians = [];
        List<double> stated = [];
        for (int draw = 0; draw < 300; draw++)
        {
            List<BarStation> readings = [.. Enumerable.Range(0, 200).Select(i => Reading(i, 0.2 * Normal.Sample(random, 0, 1)))];
            double[] near = [.. readings.Where(r => Math.Abs(r.S - 200) < ReachMm).Select(r => r.Centre).Order()];
            medians.Add(near[near.Length / 2]);
            stated.Add(EdgeMisfit.Of(readings, AxisFit.Of(readings, _ => 3, 100, _ => (0, 3, 0))).MiddleSd(200, 1));
        }

        double scatter = Math.Sqrt(medians.Average(m => m * m));
        double said = Math.Sqrt(stated.Average(s => s * s));
        Assert.InRange(said / scatter, 0.9, 1.5); // more than 1: the fit's own place is in it, too
    }

    /// <summary>In front of a busy picture most readings over a stretch are of another pair of edges: as much is open as they lie off the fit.</summary>
    [Fact]
    public void ReadingsThatMostlyLieBesideTheFitLeaveThatMuchOpen()
    {
        Random random = new(6);
        List<BarStation> readings = [.. Enumerable.Range(0, 400).Select(i => Reading(i, (0.05 * Normal.Sample(random, 0, 1)) + (i is > 150 and < 250 && i % 5 < 3 ? 1 : 0)))];
        AxisFit fit = AxisFit.Of([.. readings.Where(r => r.Centre < 0.5)], _ => 3, 100, _ => (0, 3, 0)); // the fit that took the others' side
        EdgeMisfit open = EdgeMisfit.Of(readings, fit);
        Assert.InRange(open.MiddleSd(400, 1), 0.8, 1.3);
        Assert.InRange(open.MiddleSd(100, 1), 0, 0.05);
    }

    private static BarStation Reading(int i, double centre) =>
        new(i * SpacingMm, centre + 3, centre - 3, 0.02, 0.02, 1, false, 0, 0);
}
