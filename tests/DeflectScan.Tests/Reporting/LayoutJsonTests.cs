using DeflectScan.Desk;
using DeflectScan.Layout.Start;
using DeflectScan.Reporting.Json;
using DeflectScan.Reporting.Sheets;
using DeflectScan.Scenes;

namespace DeflectScan.Tests.Reporting;

public class LayoutJsonTests
{
    private static readonly SheetLayout Layout = DeskSheet.Of(
        MeasuredLayout.Of(TruthDocument.Of("clean-spinning")).Value!, JudgedLayout.Measured(MeasuredLayout.Of(TruthDocument.Of("clean-spinning")).Value!), "Rod \"7\" <b>");

    [Fact]
    public void ALayoutReadsBackAsItWasKept()
    {
        SheetLayout again = LayoutJson.Read(LayoutJson.Write(Layout)).Value!;
        Assert.Equal((Layout.Title, Layout.LengthIsTraced), (again.Title, again.LengthIsTraced));
        Assert.Equal(Layout.BlankLengthMm, again.BlankLengthMm, 1e-4);
        Assert.Equal(Layout.Guides.Count, again.Guides.Count);
        for (int i = 0; i < Layout.Guides.Count; i++)
        {
            Assert.Equal((Layout.Guides[i].Label, Layout.Guides[i].Kind), (again.Guides[i].Label, again.Guides[i].Kind));
            Assert.Equal(Layout.Guides[i].FromTipMm, again.Guides[i].FromTipMm, 1e-4);
            Assert.Equal(Layout.Guides[i].FromReelMm!.Value, again.Guides[i].FromReelMm!.Value, 1e-4);
        }

        Assert.Equal(LayoutJson.Write(again), LayoutJson.Write(LayoutJson.Read(LayoutJson.Write(again)).Value!));
    }

    [Theory]
    [InlineData("", "damaged")]
    [InlineData("{}", "names no schema")]
    [InlineData("""{"schema":"deflectscan.layout/9"}""", "later version")]
    [InlineData("""{"schema":"deflectscan.layout/1","title":"x","blank_length_mm":900,"guides":[]}""", "at least one guide")]
    [InlineData("""{"schema":"deflectscan.layout/1","title":"x","blank_length_mm":900,"guides":[{"label":"1","kind":"g","from_tip_mm":901}]}""", "not on the blank")]
    [InlineData("""{"schema":"deflectscan.layout/1","title":"x","blank_length_mm":1e9,"guides":[{"label":"1","kind":"g","from_tip_mm":1}]}""", "less than 20 000")]
    public void WhatIsNoLayoutIsSaidInOneSentence(string text, string says) =>
        Assert.Contains(says, LayoutJson.Read(text).Findings[0].Message, StringComparison.Ordinal);

    [Fact]
    public void TestCastsReadBackAsTheyWereKept()
    {
        CastNotes notes = new("Build 3", [.. Enum.GetValues<CastObservation>().Select((o, i) => new KeptCast(o, 500 + i, new DateOnly(2026, 5, 2 + i), i == 0 ? null : "wind"))]);
        CastNotes again = CastNotesJson.Read(CastNotesJson.Write(notes)).Value!;
        Assert.Equal(notes.Title, again.Title);
        Assert.Equal(notes.Casts, again.Casts);
        Assert.True(CastNotesJson.Read(CastNotesJson.Write(notes).Replace("runs-well", "flies", StringComparison.Ordinal)).IsRefused);
    }
}
