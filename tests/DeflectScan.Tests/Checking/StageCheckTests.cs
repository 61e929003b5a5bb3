using DeflectScan.Checking;
using DeflectScan.Findings;
using DeflectScan.Measuring;
using DeflectScan.Scenes;

namespace DeflectScan.Tests.Checking;

/// <summary>The check made of a measurement's own stages, against the one made of the photo by itself.</summary>
public class StageCheckTests
{
    [Theory]
    [InlineData("clean-spinning")]
    [InlineData("bad-no-card")]
    [InlineData("bad-tip-cropped")]
    [InlineData("one-card")]
    [InlineData("yaw12")]
    public void ItSaysWhatTheCheckSays(string name)
    {
        (List<CheckReport> said, _) = Measured(name, MeasureOptions.Default);
        CheckReport alone = PhotoChecker.Check(Repository.Photo(name));
        Assert.Equal(CheckReach.Whole, said[^1].Reach);
        Assert.Equal(Others(alone).Select(i => (i.Name, i.Verdict, i.Code)), Others(said[^1]).Select(i => (i.Name, i.Verdict, i.Code)));

        // The quick look samples the line coarsely; the measurement sees no less of it (of "one-card", more).
        Assert.Equal(Line(alone) is null, Line(said[^1]) is null);
        Assert.True(Line(alone) is null || Line(said[^1])!.Verdict <= Line(alone)!.Verdict);

        static CheckItem? Line(CheckReport report) => report.Items.SingleOrDefault(i => i.Name == "line");
        static IEnumerable<CheckItem> Others(CheckReport report) => report.Items.Where(i => i.Name != "line");
    }

    [Fact]
    public void ItIsSaidAsTheStagesEnd()
    {
        (List<CheckReport> said, List<string> order) = Measured("clean-spinning", MeasureOptions.Default);
        Assert.Equal(
            ["Opening the photo", "Finding the scale cards", "Cards", "Tracing the blank", "Blank", "Following the line through the rings", "Whole", "Looking for the cord", "Working out the gaps"], order);
        Assert.Equal(["cards", "tilt", "lens", "sharpness", "light"], said[0].Items.Select(i => i.Name));
        Assert.Equal(said[0].Items, said[2].Items.Take(said[0].Items.Count));
    }

    [Fact]
    public void AFileThatIsNoPhotoIsRefused()
    {
        List<CheckReport> said = [];
        using MeasureRun run = MeasurePipeline.Run(Path.Combine(Repository.TestImages, "clean-spinning", "truth.json"), MeasureOptions.Default, new StageCheck(null, said.Add));
        Assert.Equal((CheckVerdict.Useless, FindingCode.FileUnreadable), (Assert.Single(said).Verdict, Assert.Single(said[0].Items).Code));
    }

    private static (List<CheckReport> Said, List<string> Order) Measured(string name, MeasureOptions options)
    {
        List<CheckReport> said = [];
        List<string> order = [];
        using MeasureRun run = MeasurePipeline.Run(Repository.Photo(name), options, new StageCheck(new Told(order.Add), r =>
        {
            said.Add(r);
            order.Add(r.Reach.ToString());
        }));
        return (said, order);
    }

    private sealed class Told(Action<string> say) : IProgress<string>
    {
        public void Report(string value) => say(value);
    }
}
