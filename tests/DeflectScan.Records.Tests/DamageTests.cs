using DeflectScan.Nightly.Archives;
using DeflectScan.Records.Checking;
using DeflectScan.Records.Model;

namespace DeflectScan.Records.Tests;

/// <summary>A single byte changed or missing anywhere is named by verify. The nightly program does the same 10 000 times.</summary>
public class DamageTests
{
    [Fact]
    public void AFlippedOrMissingByteIsNamed() => Assert.Empty(FlipCampaign.Run(seed: 1, count: 50));

    [Fact]
    [Trait("Set", "long")]
    public void AFlippedOrMissingByteIsNamedInMorePlaces() => Assert.Empty(FlipCampaign.Run(seed: 1, count: 150));

    /// <summary>A dozen kills; that some fall into adding and some into importing is asked of the fifty of the long set.</summary>
    [Fact]
    public void WhatWasAcknowledgedSurvivesAKill()
    {
        KillResult killed = KillCampaign.Run(seed: 1, count: 12);
        Assert.Empty(killed.Faults);
        Assert.True(killed.Acknowledged >= 3, $"only {killed.Acknowledged} acknowledgements");
        Assert.NotEmpty(killed.WhileDoing);
    }

    [Fact]
    [Trait("Set", "long")]
    public void WhatWasAcknowledgedSurvivesFiftyKills()
    {
        KillResult killed = KillCampaign.Run(seed: 1, count: 50);
        Assert.Empty(killed.Faults);
        Assert.True(killed.Acknowledged >= 25, $"only {killed.Acknowledged} acknowledgements");
        Assert.True(killed.WhileDoing.GetValueOrDefault("build") > 0, "no kill fell into adding");
        Assert.True(killed.WhileDoing.GetValueOrDefault("import, of what was not there yet") > 0, "no kill fell into importing");
    }

    [Fact]
    public void ACutOrReorderedLogGivesACommittedStateOrIsRefused() => Mangle(15);

    [Fact]
    [Trait("Set", "long")]
    public void MoreCutOrReorderedLogsGiveACommittedStateOrAreRefused() => Mangle(40);

    private static void Mangle(int logs)
    {
        (List<string> faults, int recovered, int refused) = LogCampaign.Run(seed: 1, count: logs);
        Assert.Empty(faults);
        Assert.Equal(logs, recovered + refused);
    }

    [Fact]
    public void DamageIsNeverWrittenOver()
    {
        using Scratch scratch = new();
        MadeUp.Fill(scratch["a"], scratch.Folder("p"), 1, 2);
        byte[] whole = File.ReadAllBytes(scratch["a/records.db"]);
        whole[^100] ^= 1;
        File.WriteAllBytes(scratch["a/records.db"], whole);
        Assert.Equal(ArchiveProblem.Damaged, Assert.Throws<ArchiveException>(() => Archive.OpenForWriting(scratch["a"])).Problem);
        Assert.Equal(whole, File.ReadAllBytes(scratch["a/records.db"]));
    }

    [Fact]
    public void ALostSealIsMadeAgainFromWholeRows()
    {
        using Scratch scratch = new();
        MadeUp.Fill(scratch["a"], scratch.Folder("p"), 1, 2);
        byte[] seal = File.ReadAllBytes(scratch["a/records.seal"]);
        File.WriteAllBytes(scratch["a/records.seal"], [.. seal[..50], (byte)(seal[50] ^ 1), .. seal[51..]]);
        Assert.False(ArchiveCheck.Run(scratch["a"]).IsClean);
        ArchiveCheck.Run(scratch["a"], repair: true);
        Assert.True(ArchiveCheck.Run(scratch["a"]).IsClean);
        File.Delete(scratch["a/records.seal"]);
        Assert.NotEmpty(ArchiveCheck.Run(scratch["a"]).Notes);
        Assert.Empty(ArchiveCheck.Run(scratch["a"]).Notes);
    }

    [Fact]
    public void VerifyAltersNothing()
    {
        using Scratch scratch = new();
        MadeUp.Fill(scratch["a"], scratch.Folder("p"), 1, 2);
        string[] Files() => [.. Directory.EnumerateFiles(scratch["a"], "*", SearchOption.AllDirectories).Order(StringComparer.Ordinal)];
        string[] names = Files();
        byte[][] before = [.. names.Select(File.ReadAllBytes)];
        Assert.True(ArchiveCheck.Run(scratch["a"]).IsClean);
        Assert.Equal(names, Files());
        Assert.Equal(before, names.Select(File.ReadAllBytes));
    }
}
