using DeflectScan.Nightly.Archives;
using DeflectScan.Records.Finding;
using DeflectScan.Records.Keeping;
using DeflectScan.Records.Model;

namespace DeflectScan.Records.Tests;

public class FindingTests
{
    [Fact]
    public void LikenessRanksWithTheReason()
    {
        using Scratch scratch = new();
        Archive.Create(scratch["a"]);
        using ArchiveWriter writer = Archive.OpenForWriting(scratch["a"]);
        string near = writer.AddBuild(new BuildFacts { Name = "near", BlankLengthMm = 2150, ReelClass = 2500, Use = "bass, finesse" });
        string far = writer.AddBuild(new BuildFacts { Name = "far", BlankLengthMm = 3000, ReelClass = 5000, Use = "surf" });
        string unknown = writer.AddBuild(new BuildFacts { Name = "unknown" });
        IReadOnlyList<FoundBuild> found = writer.Reader.Find(new FindQuery { BlankLengthMm = 2134, ReelClass = 2500, Use = "bass" });
        Assert.Equal([near, unknown, far], found.Select(f => f.Build.Id));
        Assert.Equal("length 2150 mm, 16 mm longer; same reel class; use: bass", found[0].Reason);
        Assert.True(found[0].Likeness > 0.95 && found[^1].Likeness < 0.1);
    }

    [Theory]
    [InlineData("fines", true)]
    [InlineData("FINÉSSE pike", false)]
    [InlineData("\"; DROP TABLE builds; --", false)]
    [InlineData("bass AND NOT", false)]
    [InlineData("*", false)]
    public void WordsAreFoundFromTheirBeginningAndAreNoLanguage(string words, bool hit)
    {
        using Scratch scratch = new();
        Archive.Create(scratch["a"]);
        using ArchiveWriter writer = Archive.OpenForWriting(scratch["a"]);
        writer.AddBuild(new BuildFacts { Name = "one", Use = "bass, finesse" });
        IReadOnlyList<FoundBuild> found = writer.Reader.Find(new FindQuery { Text = words });
        Assert.Equal(hit || words == "*", found.Count == 1);
    }

    [Fact]
    public void ALayoutIsStartedFromABuild()
    {
        using Scratch scratch = new();
        Archive.Create(scratch["a"]);
        using ArchiveWriter writer = Archive.OpenForWriting(scratch["a"]);
        string id = writer.AddBuild(new BuildFacts
        {
            Name = "old", Side = Tracing.BendSide.Inside,
            Guides = [new(null, 25, 1000, 500), new(null, 16, 780, 720), new(null, 10, 600, 900), new(null, 6, 400, 1100), new(null, 6, 200, 1300), new(null, 6, 0, 1500)],
        });
        StartedLayout started = StartFromBuild.Start(writer.Reader, writer.Reader.Build(id)!, new StartRequest(1800, null, null));

        // By hand: three reduction guides keep 500, 720, 900 mm from the reel; the rest in proportion over 900 to 1800 mm, a factor of 1.5.
        Assert.Equal([500, 720, 900, 1200, 1500, 1800], started.Stations.Select(s => Math.Round(s.FromReelMm!.Value, 6)));
        Assert.Equal([1300, 1080, 900, 600, 300, 0], started.Stations.Select(s => Math.Round(s.FromTipMm, 6)));
        Assert.Equal([25, 16, 10, 6, 6, 6], started.Stations.Select(s => s.RingSizeMm!.Value));
        Assert.Throws<ArchiveException>(() => StartFromBuild.Start(writer.Reader, writer.Reader.Build(id)!, new StartRequest(700, null, null)));
    }
}
