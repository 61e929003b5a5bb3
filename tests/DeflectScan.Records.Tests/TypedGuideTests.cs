using DeflectScan.Findings;
using DeflectScan.Records.Model;
using DeflectScan.Scenes.Samples;

namespace DeflectScan.Records.Tests;

public class TypedGuideTests
{
    [Fact]
    public void AGuideIsReadAsItIsTyped()
    {
        // 1 inch is 25.4 mm exactly (international yard and pound agreement of 1959): 22 1/2 in are 571.5 mm.
        Assert.Equal(new TypedGuide(1222, 571.5, 25, "high, two feet"), TypedGuide.Read("tip 1222mm, reel 22 1/2in, ring 25, frame high, two feet"));
        Assert.Equal(new TypedGuide(0, null, null, null), TypedGuide.Read(" tip 0 "));
        Assert.Equal(new TypedGuide(null, 510, 5.5, null), TypedGuide.Read("ring 5.5mm, reel 51cm"));
    }

    [Theory]
    [InlineData("")]
    [InlineData("ring 25")]
    [InlineData("frame low")]
    [InlineData("tip")]
    [InlineData("tip far")]
    [InlineData("butt 12")]
    [InlineData("tip 12,")]
    [InlineData("1222")]
    public void WhatIsNoGuideIsSaidInOneSentence(string text)
    {
        if (text == "tip 12,")
            Assert.Equal(12, TypedGuide.Read(text).FromTipMm); // a comma too many does no harm
        else
            Assert.DoesNotContain('\n', Assert.Throws<InputException>(() => TypedGuide.Read(text)).Message);
    }

    [Fact]
    public void BothDistancesFollowFromOneGuideThatHasBoth()
    {
        IReadOnlyList<GuideEntry> guides = TypedGuide.Complete([TypedGuide.Read("reel 500"), TypedGuide.Read("tip 0, reel 1700"), TypedGuide.Read("tip 300mm, frame low")]);
        Assert.Equal([new(null, null, 1200, 500), new("low", null, 300, 1400), new(null, null, 0, 1700)], guides);
    }

    [Fact]
    public void DistancesThatContradictEachOtherAreRefused()
    {
        Assert.Throws<InputException>(() => TypedGuide.Complete([TypedGuide.Read("reel 500")]));
        InputException wrong = Assert.Throws<InputException>(() => TypedGuide.Complete([TypedGuide.Read("tip 1200, reel 500"), TypedGuide.Read("tip 0, reel 1750")]));
        Assert.Contains("from 1700 to 1750 mm", wrong.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void GuidesFromAPhotoKeepTheFramesThatWereKnown()
    {
        Measurement m = SampleMeasurement.Ok;
        IReadOnlyList<GuideEntry> three = TypedGuide.AsMeasured(m, [new("high", 25, 400, null), new("low", 6, 200, null), new("top", 5, 0, null)]);
        Assert.Equal([new("high", 25, 402, 1120.5), new("low", 6, 215.25, 1307.25), new("top", 5, 0, 1522.5)], three);
        Assert.All(TypedGuide.AsMeasured(m, [new("high", 25, 400, null)]), g => Assert.Null(g.Frame));
    }
}
