using DeflectScan.Bending;
using DeflectScan.Findings;
using DeflectScan.Mechanics;
using DeflectScan.Mechanics.Stiffness;
using DeflectScan.Photos;
using DeflectScan.Scenes;
using DeflectScan.Tracing;

namespace DeflectScan.Tests.Bending;

/// <summary>
/// Photos that contradict each other, by documents of exact truth (bends solved by another program): loads that were misread, other rods, a loaded rod that
/// is said to be at rest.
/// </summary>
public class SameBlankTests
{
    [Theory]
    [InlineData("loads-mid", "loads-light")]
    [InlineData("loads-mid", "loads-deep")]
    public void LoadsThatTheBendsContradictAreNotAveragedIn(string here, string there)
    {
        double ratio = Repository.Truth(there).Blank.ForceRelative / Repository.Truth(here).Blank.ForceRelative;
        Outcome<StiffnessEstimate> wrong = new BlankSource(Document(here, 18.68)) { With = [Document(there, 18.68)] }.Estimate();
        Finding finding = Assert.Single(wrong.Findings, f => f.Severity == Severity.Review);
        Assert.Contains("1.000 ±", finding.Message, StringComparison.Ordinal);
        Assert.Contains($"{ratio:0.00}"[..3], finding.Message, StringComparison.Ordinal);
        Assert.Equal(ratio, wrong.Value!.Photos[1].ForceRatio, 0.02 * ratio);
        Assert.Null(wrong.Value.LoadN);

        Outcome<StiffnessEstimate> right = new BlankSource(Document(here, 18.68)) { With = [Document(there, 18.68 * ratio)] }.Estimate();
        Assert.DoesNotContain(right.Findings, f => f.Severity == Severity.Review);
        Assert.Equal(18.68, right.Value!.LoadN);
        Assert.Equal(ratio, right.Value.Photos[1].ForceRatio, 0.02 * ratio);
    }

    [Theory]
    [InlineData("clean-spinning")]
    [InlineData("thin-braid")]
    [InlineData("yaw12")]
    [InlineData("students-few")]
    public void APhotoOfAnotherRodIsNotMixedIn(string other)
    {
        Outcome<StiffnessEstimate> mixed = new BlankSource(Document("loads-mid", null)) { With = [Document(other, null)] }.Estimate();
        Assert.Contains(mixed.Findings, f => f.Severity >= Severity.Review && f.Message.Contains("not of one blank", StringComparison.Ordinal));
        Outcome<StiffnessEstimate> same = new BlankSource(Document("loads-mid", null)) { With = [Document("loads-light", null), Document("loads-deep", null)] }.Estimate();
        Assert.DoesNotContain(same.Findings, f => f.Severity >= Severity.Review);
    }

    /// <summary>Blanks of one thickness may still taper otherwise in their cloth: stiffness tells them apart where diameters do not.</summary>
    [Fact]
    public void StiffnessTellsBlanksOfOneThicknessApart()
    {
        Measurement mid = Document("loads-mid", null);
        Measurement yaw = Document("yaw12", null);
        Measurement disguised = yaw with { Blank = yaw.Blank! with { Axis = [.. yaw.Blank.Axis.Select(a => a with { DiameterMm = mid.Blank!.Axis.MinBy(b => Math.Abs(b.SMm - a.SMm))!.DiameterMm })] } };
        Outcome<StiffnessEstimate> mixed = new BlankSource(mid) { With = [disguised] }.Estimate();
        Assert.Contains(mixed.Findings, f => f.Severity >= Severity.Review && f.Message.Contains("stiffness falls otherwise", StringComparison.Ordinal));
    }

    /// <summary>Where photos pass for one blank it is said how far two may differ and still pass, and that holds: half as much passes, half as much again does not.</summary>
    [Fact]
    public void WhatDifferenceCanBeToldIsSaid()
    {
        Measurement mid = Document("loads-mid", null);
        Measurement light = Document("loads-light", null);
        string note = Assert.Single(new BlankSource(mid) { With = [light] }.Estimate().Findings, f => f.Message.Contains("can be of one blank", StringComparison.Ordinal)).Message;
        Assert.Contains("stiffness falls otherwise by about", note, StringComparison.Ordinal);
        double mm = double.Parse(System.Text.RegularExpressions.Regex.Match(note, @"about (?<mm>[\d.]+) mm", System.Text.RegularExpressions.RegexOptions.ExplicitCapture, TimeSpan.FromSeconds(1)).Groups["mm"].Value, System.Globalization.CultureInfo.InvariantCulture);
        Assert.InRange(mm, 0.1, 2);
        Assert.DoesNotContain(Thicker(0.5 * mm).Findings, f => f.Severity >= Severity.Review);
        Assert.Contains(Thicker(1.5 * mm).Findings, f => f.Severity >= Severity.Review && f.Message.Contains("not of one blank", StringComparison.Ordinal));

        Outcome<StiffnessEstimate> Thicker(double by) =>
            new BlankSource(mid) { With = [light with { Blank = light.Blank! with { Axis = [.. light.Blank.Axis.Select(a => a with { DiameterMm = a.DiameterMm + by })] } }] }.Estimate();
    }

    [Fact]
    public void ALoadedRodGivenAsAtRestIsLeftOut()
    {
        Measurement mid = Document("loads-mid", null);
        Measurement light = Document("loads-light", null);
        Measurement noCord = light with { Pull = null, Guides = [], Intervals = [], Line = null };
        foreach ((Measurement rest, string says) in new[] { (light, "shows a cord"), (noCord, "more than a rod at rest") })
        {
            Outcome<StiffnessEstimate> estimate = new BlankSource(mid) { Rest = rest }.Estimate();
            Assert.Contains(estimate.Findings, f => f.Severity == Severity.Review && f.Message.Contains(says, StringComparison.Ordinal));
            Assert.False(estimate.Value!.RestIsKnown);
        }
    }

    // The exact truth in the form of a document, its axis cut where the handle begins.
    private static Measurement Document(string name, double? loadN)
    {
        Truth truth = Repository.Truth(name);
        Measurement m = TruthMeasurement.From(truth, new PhotoInfo("photo.jpg", new string('0', 64), 4032, 3024, 1, null, null, null, null, null, null, null));
        double seen = truth.Blank.LengthMm - truth.Blank.VisibleFromSMm;
        AxisSample[] axis = [.. m.Blank!.Axis.Where(a => a.SMm <= seen + 0.01).Select(a => a with { AcrossUncertaintyMm = 0.1 })];
        return m with
        {
            Blank = m.Blank with { TracedLengthMm = axis[^1].SMm, Axis = axis },
            Pull = new PullReport(Source.Traced, truth.Blank.ForceDirectionDeg, 0.2, -90, loadN, []),
        };
    }
}
