using DeflectScan.Accuracy.Compare;
using DeflectScan.Scenes;

namespace DeflectScan.Tests.Pipeline;

/// <summary>
/// One photo of a rod in a layout of five guides, measured without a hint; from it the layout desk predicts three other layouts of the same rod under the
/// same load (8, 8 and 12 guides), whose exact truth lies beside this test. The bar: median 0.6 mm, 95 % 2 mm.
/// </summary>
[Collection(Measured.Collection)]
public class LayoutPredictionTests
{
    private static Truth Layout(string name) => Truth.Read(Path.Combine(Repository.Root, "tests", "DeflectScan.Tests", "Desk", "layouts", $"{name}.json"));

    [Fact]
    public void OtherLayoutsOfTheSameRodArePredicted()
    {
        Measurement measured = Measured.Photo("students-few");
        Assert.Equal(MeasurementStatus.Ok, measured.Status);
        List<PredictedFigure> figures = [];
        foreach (string name in new[] { "good", "uneven", "many" })
        {
            Assert.True(LayoutPrediction.SameBend(Repository.Truth("students-few"), Layout(name)));
            figures.AddRange(LayoutPrediction.Of(measured, Layout(name)));
        }

        Spread gap = Spread.Of(figures.Where(f => f.Figure == "gap").Select(f => f.Error));
        Assert.Equal(8 + 8 + 12, gap.Count);
        Assert.InRange(gap.Median, 0, 0.6);
        Assert.InRange(gap.P95, 0, 2);
        Assert.InRange(figures.Count(f => f.IsCovered) / (double)figures.Count, 0.9, 1);
    }

    [Fact]
    public void AnotherRodIsNoOtherLayout() => Assert.False(LayoutPrediction.SameBend(Repository.Truth("clean-spinning"), Layout("good")));
}
