using DeflectScan.Desk;
using DeflectScan.Findings;
using DeflectScan.Geometry;
using DeflectScan.Scenes;
using DeflectScan.Teaching;

namespace DeflectScan.Tests.Teaching;

/// <summary>A class put side by side, from the truth of rendered rods.</summary>
public class ClassRuleTests
{
    private static ClassPhoto Sent(string student, string photo, int n = 0, MeasurementStatus status = MeasurementStatus.Ok)
    {
        Measurement m = TruthDocument.Of(photo);
        return new ClassPhoto(student, photo, m with
        {
            Status = status,
            Photo = m.Photo! with { Sha256 = Convert.ToHexStringLower(System.Security.Cryptography.SHA256.HashData([(byte)n, .. System.Text.Encoding.UTF8.GetBytes(photo)])) },
            Findings = status == MeasurementStatus.Ok ? [] : [Finding.Review(FindingCode.Blurred, "Look.")],
            Guides = [.. m.Guides.Select(g => g with { RingPx = g.RingPx + new Vec2(n, 0) })],
        });
    }

    private static ClassReport Class(ClassOptions options, params ClassPhoto[] photos) => ClassRule.Make(photos, options);

    [Fact]
    public void RodsAreSortedAsAsked()
    {
        ClassPhoto[] photos = [Sent("Rod 10", "students-few"), Sent("Rod 2", "clean-spinning"), Sent("rod 1", "loads-light"), new("Nobody", "x", null)];
        Assert.Equal(["rod 1", "Rod 2", "Rod 10", "Nobody"], Class(new() { Order = ClassOrder.Bow }, photos).Rods.Select(r => r.Name));
        Assert.Equal(["Nobody", "rod 1", "Rod 2", "Rod 10"], Class(new() { Order = ClassOrder.Name }, photos).Rods.Select(r => r.Name));
        Assert.Equal(["Rod 10", "Rod 2", "rod 1", "Nobody"], Class(new() { Order = ClassOrder.Guides }, photos).Rods.Select(r => r.Name));
        Assert.Equal(["Rod 10", "Rod 2", "rod 1", "Nobody"], Class(new() { Order = ClassOrder.Given }, photos).Rods.Select(r => r.Name));
    }

    /// <summary>The best possible is that of the desk's own search, and no measured layout of the same rules beats it by more than its rounding to 1 mm allows.</summary>
    [Fact]
    public void EachRodIsHeldAgainstWhatItsBlankAllows()
    {
        ClassRod rod = Class(new() { TargetIsBest = true }, Sent("A", "clean-spinning")).Rods.Single();
        MeasuredLayout layout = MeasuredLayout.Of(rod.Photo.Measurement!).Value!;
        SpacingReport desk = InputException.Unless(SpacingReport.Of(layout, new SpacingRequest { Guides = layout.Rings.Count - 1 }, null));
        Assert.Equal(desk!.Layout!.Pairs.Skip(desk.Held - 1).Max(p => p.BowMm), rod.BestBowMm!.Value, 1e-9);
        Assert.Equal(rod.BestBowMm, rod.TargetMm);
        Assert.True(rod.OverBest > 0.95);
    }

    [Fact]
    public void ATargetThatIsNotSureIsNotSaidToBeKept()
    {
        ClassPhoto photo = Sent("A", "clean-spinning");
        RodFigure bow = RodReading.Of(photo).Bow!;
        Assert.True(Class(new() { TargetBowMm = bow.Mm + bow.UncertaintyMm + 0.1 }, photo).Rods[0].KeepsTarget);
        Assert.False(Class(new() { TargetBowMm = bow.Mm - bow.UncertaintyMm - 0.1 }, photo).Rods[0].KeepsTarget);
        ClassReport open = Class(new() { TargetBowMm = bow.Mm }, photo);
        Assert.Null(open.Rods[0].KeepsTarget);
        Assert.Contains(open.StandsOut, s => s.Contains("which side is not sure: A", StringComparison.Ordinal));
    }

    [Fact]
    public void WhatIsInReviewCountsInNoSentence()
    {
        ClassReport report = Class(new(), Sent("Best", "loads-light", status: MeasurementStatus.NeedsReview), Sent("Other", "clean-spinning"), Sent("Third", "students-few"));
        Assert.Contains(report.StandsOut, s => s.StartsWith("Other follows the bend best", StringComparison.Ordinal));
        Assert.Contains("To be looked at first", report.StandsOut[0], StringComparison.Ordinal);
    }

    [Fact]
    public void AlikeOnesAreNotRanked()
    {
        ClassReport report = Class(new(), Sent("A", "clean-spinning"), Sent("B", "clean-spinning", 1), Sent("C", "students-few"));
        Assert.Contains(report.StandsOut, s => s.StartsWith("A and B follow the bend best, alike", StringComparison.Ordinal));
    }

    [Fact]
    public void ACopyOfAPhotoIsKnownByItsPixels()
    {
        ClassPhoto a = Sent("A", "clean-spinning");
        ClassPhoto sentOn = a with { Student = "B", Measurement = a.Measurement! with { Photo = a.Measurement.Photo! with { Sha256 = new string('e', 64) } } };
        Assert.Contains(Class(new(), a, sentOn).StandsOut, s => s.Contains("The same photo was sent by A and B", StringComparison.Ordinal));
        Assert.DoesNotContain(Class(new(), a, Sent("B", "clean-spinning", 1)).StandsOut, s => s.Contains("same photo", StringComparison.Ordinal));
    }

    [Fact]
    public void OnTheSameBlankTheLayoutsArePutTogether()
    {
        ClassPhoto a = Sent("A", "clean-spinning"), b = Sent("B", "clean-spinning", 1);
        MeanLayout mean = Class(new() { IsSameBlank = true }, a, b, Sent("C", "students-few")).Mean!;
        Assert.Equal((2, a.Measurement!.Guides.Count - 1), (mean.Rods, mean.Guides));
        Assert.Equal(a.Measurement.Guides.Select(g => g.StationMm), mean.StationsMm);
        Assert.All(mean.SpreadsMm, s => Assert.Equal(0, s!.Value, 1e-9));
        Assert.Null(Class(new(), a, b).Mean);
    }

    [Fact]
    public void AStripLiesOverTheBlankAsTheLineDoes()
    {
        RodStrip strip = RodReading.Of(Sent("A", "clean-spinning")).Strip!;
        for (int i = 0; i < strip.Pairs.Count; i++)
        {
            Assert.Equal(strip.Rings[i].HeightMm, strip.Pairs[i].Line[0].Y, 0.05);
            Assert.Equal(strip.Rings[i + 1].StationMm, strip.Pairs[i].Line[^1].X, 0.05);
            // The gap is the line's largest distance from the blank's surface: with the radius it is the arc's top (contract).
            Assert.True(strip.Pairs[i].Line.Max(p => p.Y) > TruthDocument.Of("clean-spinning").Intervals[i].GapMm);
        }
    }

    [Theory]
    [InlineData("a.jpg,Anna\r\n\"b, c.jpg\",\"Ben \"\"B\"\"\"\r\n", "a.jpg=Anna|b, c.jpg=Ben \"B\"")]
    [InlineData("file,name\nx,\"two\nlines\"", "x=two\nlines")]
    [InlineData("", "")]
    public void AListOfNamesIsRead(string text, string expected) => Assert.Equal(expected, string.Join('|', NameList.Read(text).Value!.Select(n => $"{n.File}={n.Name}")));

    [Theory]
    [InlineData("a.jpg")]
    [InlineData("a.jpg,")]
    [InlineData("\"a.jpg,Anna")]
    public void ABrokenListSaysSo(string text) => Assert.True(NameList.Read(text).IsRefused);
}
