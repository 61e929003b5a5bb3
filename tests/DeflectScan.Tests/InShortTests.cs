using DeflectScan.Findings;

namespace DeflectScan.Tests;

public class InShortTests
{
    [Fact]
    public void OneCauseIsOneSentenceWithItsPlacesInAList() => Assert.Equal(
        ["The ring 402, 455 and 512 mm from the tip is known to 3.2 to 4.1 mm only: mark it.", "Another thing."],
        InShort.Of(
        [
            "The ring 402 mm from the tip is known to 3.2 mm only: mark it.", "Another thing.", "The ring 455 mm from the tip is known to 4.1 mm only: mark it.",
            "The ring 512 mm from the tip is known to 3.5 mm only: mark it.", "Another thing.",
        ]));

    [Fact]
    public void WhatStandsOnceStaysAndCausesAreNotMixed()
    {
        Finding[] all = [Finding.Review(FindingCode.GuidesUncertain, "At 5 mm."), Finding.Note(FindingCode.GuidesUncertain, "At 6 mm."), Finding.Review(FindingCode.LineNotSeen, "At 7 mm.")];
        Assert.Equal(all, InShort.Of(all));
    }

    [Fact]
    public void ALongListIsCut() => Assert.Contains("111 and 8 more mm", InShort.Of(Enumerable.Range(100, 20).Select(i => $"At {i} mm."))[0], StringComparison.Ordinal);
}
