using System.Diagnostics;
using DeflectScan.Nightly.Archives;
using DeflectScan.Records.Finding;

namespace DeflectScan.Records.Tests;

/// <summary>Times and memory of a large archive. Alone: what other tests allocate would be counted too.</summary>
[Collection(Alone)]
public class LargeArchiveTests
{
    public const string Alone = "alone";

    /// <summary>The same bars as of ten thousand builds: whatever grows with more than their number shows here, too.</summary>
    [Fact]
    public void AThousandBuildsAnswerInATenthOfASecond() => Ask(1_000, page: 30);

    [Fact]
    [Trait("Set", "long")]
    public void TenThousandBuildsAnswerInATenthOfASecond() => Ask(10_000, page: 300);

    private static void Ask(int builds, int page)
    {
        using Scratch scratch = new();
        Archive.Create(scratch["a"]);
        string id = LargeArchive.Fill(scratch["a"], scratch.Folder("p"), builds, measurementsOfEach: 3);
        using ArchiveReader reader = Archive.OpenForReading(scratch["a"]);
        Assert.InRange(Least(() => reader.Find(new FindQuery { Text = "finesse braid" })), 0, 100);
        Assert.InRange(Least(() => reader.Find(new FindQuery { BlankLengthMm = 2134, TipTurnDeg = 85, ReelClass = 2500, Line = "braid", Side = "inside", Use = "bass" })), 0, 100);
        Assert.InRange(Least(() => reader.Find(new FindQuery { Text = "pike", BlankLengthMm = 2134 })), 0, 100);
        Assert.InRange(Least(() => reader.Build(id)), 0, 100);
        Assert.InRange(Least(() => reader.List(page)), 0, 100);
        long before = GC.GetTotalMemory(forceFullCollection: true);
        for (int i = 0; i < 5; i++)
            reader.Find(new FindQuery { BlankLengthMm = 2134 + i, Use = "bass" });
        Assert.InRange(GC.GetTotalMemory(forceFullCollection: true) - before, long.MinValue, 2_000_000);
    }

    /// <summary>Least of some runs, ms: the machine may be busy with other things.</summary>
    private static double Least(Action work)
    {
        double least = double.MaxValue;
        for (int i = 0; i < 12; i++)
        {
            long start = Stopwatch.GetTimestamp();
            work();
            least = Math.Min(least, Stopwatch.GetElapsedTime(start).TotalMilliseconds);
        }

        return least;
    }
}

[CollectionDefinition(LargeArchiveTests.Alone, DisableParallelization = true)]
public class AloneCollection;
