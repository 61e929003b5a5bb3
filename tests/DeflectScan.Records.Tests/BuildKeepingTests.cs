using System.Text.Json.Nodes;
using DeflectScan.Nightly.Archives;
using DeflectScan.Records.Finding;
using DeflectScan.Records.Keeping;
using DeflectScan.Records.Model;

namespace DeflectScan.Records.Tests;

/// <summary>What is said of a build: one rule for its name, one reading of its document, whoever says it.</summary>
public class BuildKeepingTests
{
    [Fact]
    public void ANameIsOneBuildsAlone()
    {
        using Scratch scratch = new();
        Archive.Create(scratch["a"]);
        using ArchiveWriter writer = Archive.OpenForWriting(scratch["a"]);
        BuildFacts facts = MadeUp.Facts(1) with { Name = "River" };
        string river = BuildKeeping.Add(writer, facts), brook = BuildKeeping.Add(writer, facts with { Name = "Brook" });
        foreach (Action taking in new Action[]
        {
            () => BuildKeeping.Add(writer, facts),
            () => BuildKeeping.Revise(writer, brook, facts),
            () => PhotoKeeping.Keep(writer, new PhotosToKeep(null, _ => facts, [])),
            () => PhotoKeeping.Keep(writer, new PhotosToKeep("Brook", known => known! with { Name = "River" }, [])),
        })
        {
            ArchiveException refused = Assert.Throws<ArchiveException>(taking);
            Assert.Equal(ArchiveProblem.Refused, refused.Problem);
            Assert.Contains("\"River\" already", refused.Message, StringComparison.Ordinal);
        }

        BuildKeeping.Revise(writer, river, facts); // its own name, and nothing new
        BuildKeeping.Revise(writer, river, facts with { Use = "perch" });
        Assert.Equal(2, writer.Reader.BuildCount);
        Assert.Equal(2, writer.Reader.Build(river)!.History.Count);
        Assert.Equal("Brook", Assert.Single(writer.Reader.Build(brook)!.History).Facts.Name);
    }

    [Fact]
    public void GuidesOfADocumentMayBeWrittenAsAPersonTypesThem()
    {
        BuildFacts typed = BuildFactsJson.Read((JsonObject)JsonNode.Parse("""{"name":"River","guides":["tip 1222mm, reel 22 1/2in, ring 25, frame high","tip 0"]}""")!, null).Value!;
        Assert.Equal([new GuideEntry("high", 25, 1222, 571.5), new GuideEntry(null, null, 0, 1793.5)], typed.Guides); // 22 1/2 in are 571.5 mm
        Assert.Empty(BuildFactsJson.Read((JsonObject)JsonNode.Parse("""{"guides":[]}""")!, typed).Value!.Guides);
        foreach (string wrong in new[] { """{"guides":["somewhere"]}""", """{"guides":[5]}""", """{"guides":["tip 5",{"from_tip_mm":0}]}""", """{"name":5}""" })
            Assert.EndsWith(".", BuildFactsJson.Read((JsonObject)JsonNode.Parse(wrong)!, typed).Findings[0].Message, StringComparison.Ordinal);
        foreach (string wrong in new[] { """{"schema":5}""", """{"schema":"deflectscan.build/1","name":"a","name":"b"}""", "[]", "null" })
            Assert.True(BuildFactsJson.Read(wrong, null).IsRefused);
    }

    [Fact]
    public void NothingIsLookedForByNothing()
    {
        Assert.NotNull(new FindQuery().FirstProblem());
        Assert.NotNull(new FindQuery { Line = "braid", Limit = 0 }.FirstProblem());
        Assert.NotNull(new FindQuery { BlankLengthMm = -1 }.FirstProblem());
        Assert.NotNull(new FindQuery { ReelClass = 0 }.FirstProblem());
        Assert.Null(new FindQuery { Text = "river" }.FirstProblem());
        Assert.Null(new FindQuery { BlankLengthMm = 2100 }.FirstProblem());
    }
}
