using DeflectScan.Desk;
using DeflectScan.Findings;
using DeflectScan.Geometry;
using DeflectScan.Layout;
using DeflectScan.Reporting.Json;
using DeflectScan.Scenes;

namespace DeflectScan.Tests.Desk;

public class MeasuredLayoutTests
{
    public static TheoryData<string> Names => ["clean-spinning", "casting-top", "students-few", "yaw12"];

    /// <summary>The rod that a document gives is the one that it was written from: rings and line angles of the truth.</summary>
    [Theory]
    [MemberData(nameof(Names))]
    public void ADocumentGivesTheRodBack(string name)
    {
        Truth truth = Repository.Truth(name);
        MeasuredLayout rod = Read(TruthDocument.Text(name));
        Vec2 tip = new(truth.Blank.Samples[^1].X, truth.Blank.Samples[^1].Y);
        LayoutResult figures = LayoutRule.Evaluate(rod.Shape, rod.Rings, rod.Side, rod.LineFromMm, rod.LineToMm);
        for (int i = 0; i < truth.Guides.Count; i++)
        {
            Assert.InRange((rod.Rings[i].PointMm + tip).DistanceTo(new(truth.Guides[i].ContactMm[0], truth.Guides[i].ContactMm[1])), 0, 0.05);
            Assert.Equal(truth.Guides[i].LineAngleDeg, figures.LineAnglesDeg[i]!.Value, 0.1);
        }

        Assert.Equal(truth.Blank.LengthMm - truth.Blank.ReelFrontSMm, rod.ReelStationMm!.Value, 0.01);
    }

    /// <summary>Against the truth's own camera: where the map from a document alone puts rings that were not there.</summary>
    [Theory]
    [MemberData(nameof(Names))]
    public void PlacesInThePhotoAreThoseOfTheCamera(string name)
    {
        Truth truth = Repository.Truth(name);
        MeasuredLayout rod = Read(TruthDocument.Text(name));
        Vec2 tip = new(truth.Blank.Samples[^1].X, truth.Blank.Samples[^1].Y);
        PhotoPlaces photo = PhotoPlaces.Of(rod);
        DeflectScan.Calibration.RodPlane plane = truth.RodPlane();
        for (double s = 5; s < rod.Rings[0].StationMm; s += 37)
        {
            foreach (double height in new[] { 0, 8, 30 })
            {
                RingPoint ring = RingPoint.At(rod.Shape, s, height, rod.Side);
                Assert.InRange(photo.OfPoint(s, ring.PointMm).DistanceTo(plane.ToPhoto(ring.PointMm + tip)), 0, height == 0 ? 0.1 : height < 10 ? 0.4 : 1);
            }
        }
    }

    public static TheoryData<string, string, string> Damages => new()
    {
        { "", "", "names no schema" },
        { "deflectscan.measurement/1", "deflectscan.measurement/2", "later version" },
        { "deflectscan.measurement/1", "deflectscan.layout/1", "another kind" },
        { "deflectscan.measurement/1", "somebody.else/1", "no measurement document" },
        { "\"side\": \"inside\"", "\"side\": null", "no measured layout" },
        { "\"traced_length_mm\"", "\"traced\"", "damaged" },
        { "\"height_mm\": ", "\"height_mm\": 9", "contradicts itself" },
        { "\"height_mm\": ", "\"height_mm\": -", "damaged" },
        { "\"index\": 1", "\"index\": 2", "damaged" },
        { "\"x_mm\": ", "\"x_mm\": 1e999, \"was\": ", "damaged" },
        { "\"diameter_mm\": ", "\"diameter_mm\": -", "damaged" },
    };

    [Theory]
    [MemberData(nameof(Damages))]
    public void AForeignDamagedOrLaterDocumentIsRefusedWithItsReason(string found, string put, string says)
    {
        string text = TruthDocument.Text("clean-spinning");
        text = found.Length == 0 ? "{\"hello\": 1}" : text.Replace(found, put, StringComparison.Ordinal);
        Outcome<MeasuredLayout> rod = Opened(text);
        Assert.True(rod.IsRefused);
        Finding finding = Assert.Single(rod.Findings);
        Assert.Contains(says, finding.Message, StringComparison.Ordinal);
        Assert.EndsWith(".", finding.Message, StringComparison.Ordinal);
        Assert.DoesNotContain(". ", finding.Message, StringComparison.Ordinal);
    }

    /// <summary>Cut anywhere, changed anywhere: a refusal in words or a rod, never a fault.</summary>
    [Fact]
    public void ADocumentThatWasCutOrChangedNeverFaults()
    {
        string text = TruthDocument.Text("one-card");
        Random random = new(5);
        int refused = 0;
        for (int i = 0; i < 300; i++)
        {
            int at = random.Next(text.Length);
            string changed = random.Next(2) == 0 ? text[..at] : text[..at] + "0-9\"}],:xnull"[random.Next(13)] + text[(at + 1)..];
            Outcome<MeasuredLayout> rod = Opened(changed);
            refused += rod.IsRefused ? 1 : 0;
            Assert.True(rod.Value is not null || rod.Findings[0].Message.Length > 20);
        }

        Assert.InRange(refused, 150, 300);
    }

    [Fact]
    public void WhatWasRefusedHasNoLayout() =>
        Assert.True(MeasuredLayout.Of(DeflectScan.Scenes.Samples.SampleMeasurement.Refused).IsRefused);

    private static MeasuredLayout Read(string text) => Opened(text) is { Value: { } rod } ? rod : throw new InvalidOperationException("refused");

    private static Outcome<MeasuredLayout> Opened(string text)
    {
        string path = Path.GetTempFileName();
        try
        {
            File.WriteAllText(path, text);
            Outcome<Measurement> document = DocumentFile.Read(path, MeasurementJson.Read);
            return document.Value is { } m ? MeasuredLayout.Of(m) : Outcome<MeasuredLayout>.Refused(document.Findings);
        }
        finally
        {
            File.Delete(path);
        }
    }
}
