using DeflectScan.Findings;
using DeflectScan.Reporting;
using DeflectScan.Reporting.Drawing;
using DeflectScan.Scenes;

namespace DeflectScan.Tests.Reporting;

/// <summary>What stands above the picture, in six lines at most.</summary>
public class OverlayHeadTests
{
    private static readonly Measurement Sound = TruthDocument.Of("clean-spinning");

    /// <summary>Reasons without a mark come first in the document; the marked places keep their sentences all the same, whole.</summary>
    [Fact]
    public void WhatIsMarkedOnThePictureKeepsItsSentence()
    {
        string[] plain = ["The photo is blurred, and every figure is less sure for it: hold the camera still and take it again.", "The cards disagree by 0.4 % in scale: look whether one of them leans.", "The wall is burnt out."];
        Finding side = Finding.Review(FindingCode.GuidesUncertain, "It is uncertain whether a guide stands 402 mm from the tip, where something hides the line: look at the overlay and mark the rings.") with { Places = [FindingPlace.At(402)] };
        InfoStrip head = OverlayHead.Of(Sound with { Status = MeasurementStatus.NeedsReview, Findings = [.. plain.Select(p => Finding.Review(FindingCode.Blurred, p)), side] }, new OverlayOptions());
        string words = string.Join(' ', head.Words);
        Assert.InRange(head.Lines, 2, OverlayHead.MostLines);
        Assert.True(words.Contains($"?1 {side.Message}", StringComparison.Ordinal), words);
        Assert.Contains("Needs review", words, StringComparison.Ordinal);
        Assert.Contains("The photo is blurred", words, StringComparison.Ordinal);
    }

    /// <summary>More marked places than lines: whatever has no line is named by its mark.</summary>
    [Fact]
    public void EveryMarkIsNamed()
    {
        Finding[] many = [.. Enumerable.Range(1, 9).Select(i => Finding.Review(FindingCode.GuidesUncertain, $"Cause {(char)('a' + i)} has a place of its own.") with { Places = [FindingPlace.At(100 * i)] })];
        InfoStrip head = OverlayHead.Of(Sound with { Status = MeasurementStatus.NeedsReview, Findings = [.. many, Finding.Review(FindingCode.Blurred, "Blurred.")] }, new OverlayOptions());
        string words = string.Join(' ', head.Words);
        Assert.Equal(OverlayHead.MostLines, head.Lines);
        Assert.All(Enumerable.Range(1, 9), i => Assert.Contains($"?{i}", words, StringComparison.Ordinal));
        Assert.Contains("and 1 more: the list beside this picture has all", words, StringComparison.Ordinal);
    }

    [Fact]
    public void APlainPhotoHasItsFiguresAndItsScale()
    {
        InfoStrip head = OverlayHead.Of(Sound, new OverlayOptions());
        Assert.Contains("Largest gap", string.Join(' ', head.Words), StringComparison.Ordinal);
        Assert.Contains("Scale from", string.Join(' ', head.Words), StringComparison.Ordinal);
    }
}
