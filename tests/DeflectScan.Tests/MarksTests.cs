using DeflectScan.Geometry;

namespace DeflectScan.Tests;

public class MarksTests
{
    [Fact]
    public void ADocumentIsReadAndReadsBackEqual()
    {
        Marks marks = Marks.Parse("""
            {"schema":"deflectscan.marks/1","tip":[3411.2,911.85],"butt":null,"blank":[[1,2],[3,4.5]],"rings":[[10,20]],"reel_front":[5,6],"complete":true,"later":{}}
            """).Value!;
        Assert.Equal(new Vec2(3411.2, 911.85), marks.TipPx);
        Assert.Null(marks.ButtPx);
        Assert.Equal([new Vec2(1, 2), new Vec2(3, 4.5)], marks.BlankPx);
        Assert.Equal([new Vec2(10, 20)], marks.RingsPx);
        Assert.Equal(new Vec2(5, 6), marks.ReelFrontPx);
        Assert.True(marks.IsComplete);
        Marks again = Marks.Parse(marks.ToJson()).Value!;
        Assert.Equal(marks.TipPx, again.TipPx);
        Assert.Equal(marks.BlankPx, again.BlankPx);
        Assert.Equal(marks.RingsPx, again.RingsPx);
        Assert.Equal(marks.ReelFrontPx, again.ReelFrontPx);
        Assert.True(again.IsComplete);
        Assert.False(Marks.Parse("""{"schema":"deflectscan.marks/1","rings":[[1,2]]}""").Value!.IsComplete);
        Assert.False(Marks.Parse("""{"schema":"deflectscan.marks/1","rings":[[1,2]],"complete":false}""").Value!.IsComplete);
        Assert.True(Marks.Parse(Marks.None.ToJson()).Value!.IsEmpty);
    }

    [Theory]
    [InlineData("")]
    [InlineData("[]")]
    [InlineData("{}")]
    [InlineData("""{"schema":"deflectscan.marks/2"}""")]
    [InlineData("""{"schema":1}""")]
    [InlineData("""{"schema":"deflectscan.marks/1","tip":[1]}""")]
    [InlineData("""{"schema":"deflectscan.marks/1","tip":[1,2,3]}""")]
    [InlineData("""{"schema":"deflectscan.marks/1","tip":["1","2"]}""")]
    [InlineData("""{"schema":"deflectscan.marks/1","tip":[1e999,2]}""")]
    [InlineData("""{"schema":"deflectscan.marks/1","rings":[1,2]}""")]
    [InlineData("""{"schema":"deflectscan.marks/1","blank":{"a":[1,2]}}""")]
    [InlineData("""{"schema":"deflectscan.marks/1","rings":[[1,2]],"complete":1}""")]
    [InlineData("""{"schema":"deflectscan.marks/1","complete":true}""")]
    [InlineData("""{"schema":"deflectscan.marks/1","rings":[],"complete":true}""")]
    [InlineData("""{"schema":"deflectscan.marks/1","x":[[[[[[[[[[]]]]]]]]]]}""")]
    public void ABadDocumentIsNamedInOneSentence(string json)
    {
        string message = Marks.Parse(json).Findings[0].Message;
        Assert.EndsWith(".", message, StringComparison.Ordinal);
        Assert.DoesNotContain('\n', message);
    }

    [Fact]
    public void OptionsOutOfRangeAreNamed()
    {
        Assert.Null(MeasureOptions.Default.FirstProblem());
        Assert.NotNull((MeasureOptions.Default with { GuideCount = 0 }).FirstProblem());
        Assert.NotNull((MeasureOptions.Default with { BlankLengthMm = double.NaN }).FirstProblem());
        Assert.NotNull((MeasureOptions.Default with { CardScale = 0 }).FirstProblem());
        Assert.NotNull((MeasureOptions.Default with { FirstGuideFromReelMm = double.PositiveInfinity }).FirstProblem());
        Assert.NotNull((MeasureOptions.Default with { HoldGuides = -1 }).FirstProblem());
    }
}
