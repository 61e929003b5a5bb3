using DeflectScan.Accuracy.Compare;
using DeflectScan.Scenes;

namespace DeflectScan.Tests.Pipeline;

/// <summary>
/// Three photos of one rod at three loads (tip turned 40, 68 and 98 degrees), each measured without a hint; from each one the other two loads are predicted,
/// whose exact truth another program solved. The photos are stored at a lower JPEG quality than they were rendered with, to keep the clone small.
/// </summary>
[Collection(Measured.Collection)]
public class LoadPredictionTests
{
    public static TheoryData<string, string> Pairs() => new()
    {
        { "light", "mid" }, { "light", "deep" }, { "mid", "light" }, { "mid", "deep" }, { "deep", "light" }, { "deep", "mid" },
    };

    [Theory]
    [MemberData(nameof(Pairs))]
    public void OneLoadsPhotoPredictsAnotherLoad(string from, string to)
    {
        Measurement measured = Measured.Photo($"loads-{from}");
        Truth own = Repository.Truth($"loads-{from}");
        Truth other = Repository.Truth($"loads-{to}");
        Assert.Equal(MeasurementStatus.Ok, measured.Status);
        Assert.True(LoadPrediction.SameRod(own, other));
        LoadPrediction p = LoadPrediction.Of(new DeflectScan.Bending.BlankSource(measured), own, other);

        // The bars set for the program: shape 95 % within 4 mm, gaps and bows 95 % within 0.8 mm, load within 2 %.
        Assert.InRange(Spread.Of(p.ShapeMm).P95, 0, 4);
        Assert.Equal(9, p.Gaps.Count);
        Assert.InRange(Spread.Of(p.Gaps.Concat(p.Bows)).P95, 0, 0.8);
        Assert.InRange(Math.Abs(p.LoadByTurn), 0, 0.02);

        // And what is stated covers it.
        Assert.InRange(p.ShapeCovered, 0.95, 1);
        Assert.InRange(p.FiguresCovered, 0.9, 1);
        Assert.InRange(Math.Abs(p.LoadByTurn), 0, p.LoadByTurnStated);
    }

    [Fact]
    public void TwoLoadsTogetherTellTheirRatio()
    {
        double factor = Repository.Truth("loads-deep").Blank.ForceRelative / Repository.Truth("loads-light").Blank.ForceRelative;
        (double error, double stated) = LoadPrediction.JointRatio(Measured.Photo("loads-light"), Measured.Photo("loads-deep"), factor);
        Assert.InRange(Math.Abs(error), 0, 0.02);
        Assert.InRange(stated, 0.001, 0.05);
        Assert.InRange(Math.Abs(error), 0, stated);
    }

    [Fact]
    public void AnotherRodIsNotTheSameAtAnotherLoad() =>
        Assert.False(LoadPrediction.SameRod(Repository.Truth("clean-spinning"), Repository.Truth("loads-mid")));
}
