using DeflectScan.Geometry;
using DeflectScan.Measuring;
using DeflectScan.Records.Comparing;
using DeflectScan.Scenes;
using DeflectScan.Scenes.Rendering;
using DeflectScan.Scenes.Samples;

namespace DeflectScan.Records.Tests;

/// <summary>Photos of one rod from one stand: what both share does not count in their difference, and what was moved shows.</summary>
public class SeriesTests
{
    private static Measurement First { get; } = Made('a');

    /// <summary>A bend of 1000 mm over a quarter circle, 2 px a mm, with the sample's guides on it.</summary>
    private static Measurement Made(char hash)
    {
        const double Radius = 1000 / (Math.PI / 2);
        AxisSample Sample(int i)
        {
            double angle = i * 5 / Radius;
            Vec2 mm = new(-Radius * Math.Sin(angle), -Radius * (1 - Math.Cos(angle)));
            return new AxisSample(i * 5, new Vec2(3000 + (2 * mm.X), 900 - (2 * mm.Y)), mm, 4) { AcrossUncertaintyMm = 0.1 };
        }

        Measurement sample = SampleMeasurement.Ok;
        return sample with
        {
            Photo = sample.Photo! with { Sha256 = new string(hash, 64) },
            Calibration = sample.Calibration! with { MmPerPx = 0.5, Cards = [Card('A', 400), Card('C', 2400)] },
            Blank = sample.Blank! with { TracedLengthMm = 1000, Axis = [.. Enumerable.Range(0, 201).Select(Sample)] },
        };
    }

    private static CardReport Card(char letter, double x) => new(letter, 24, 0.1) { OutlinePx = [new(x, 1000), new(x + 300, 1000), new(x + 300, 1400), new(x, 1400)] };

    private static Measurement Shifted(Measurement m, double px) => m with
    {
        Calibration = m.Calibration! with { Cards = [.. m.Calibration.Cards.Select(c => c with { OutlinePx = [.. c.OutlinePx.Select(p => p + new Vec2(px, 0))] })] },
        Blank = m.Blank! with { Axis = [.. m.Blank.Axis.Select(a => a with { Px = a.Px + new Vec2(px, 0) })] },
    };

    private static Measurement Slid(Measurement m, double mm) => m with { Guides = [m.Guides[0], m.Guides[1] with { Station = m.Guides[1].Station with { Mm = m.Guides[1].StationMm - mm } }, m.Guides[2]] };

    [Fact]
    public void WhatBothPhotosShareDoesNotCountInTheirDifference()
    {
        Comparison c = Comparison.Of(First, Made('b'));
        Assert.True(c.Stand is { IsStill: true });
        double gap = c.Pairs[0].Gap!.UncertaintyMm;
        Assert.Equal(SharedStand.StillShare * Math.Sqrt(2) * First.Intervals[0].Seen!.GapMm, gap, 9);
        Assert.True(gap <= 0.5 * First.Intervals[0].Gap.UncertaintyMm);
        Assert.Contains(c.Changes, s => s.Contains("from one stand and the camera stood still", StringComparison.Ordinal));
        Assert.Contains(c.Changes, s => s.StartsWith("The rod stayed where it was", StringComparison.Ordinal));
        Assert.Equal("No guide moved: no bow changed by more than the photos leave open.", StepWords.Headline(c));
    }

    /// <summary>By chance alone one guide of ten lies outside its 95 % in two photos of five; Bonferroni's factor for three is 2.394 / 1.960 (z tables).</summary>
    [Fact]
    public void AMoveWithinWhatChanceMakesOfAllGuidesIsNone()
    {
        double one = Comparison.Of(First, Made('b')).Guides[1].UncertaintyMm!.Value;
        Comparison chance = Comparison.Of(First, Slid(Made('b'), 1.2 * one)), moved = Comparison.Of(First, Slid(Made('b'), 1.25 * one));
        Assert.False(chance.Guides[1].HasMoved || chance.Guides[1].WasTouched);
        Assert.All(chance.Pairs, p => Assert.True(p.Gap!.UncertaintyMm <= 0.5 * p.Before!.Gap.UncertaintyMm));
        Assert.True(moved.Guides[1].WasTouched);
    }

    [Fact]
    public void WhatOnePhotoSeesLessWellIsItsOwn()
    {
        SharedStand stand = Comparison.Of(First, Made('b')).Stand!;
        Assert.Equal(SharedStand.StillShare * Math.Sqrt(1 + (1.2 * 1.2)), stand.OfDifference(1, 1.2, 0, isStill: true), 9);
        double worse = stand.OfDifference(1, 4, 0, isStill: true);
        Assert.InRange(worse, 3.7, 4.1); // of two photos that share nothing: the root of 17, 4.12
        Assert.Equal(worse, stand.OfDifference(4, 1, 0, isStill: true), 9);
    }

    [Fact]
    public void PhotosThatDoNotSeeAlikeShareNoLight()
    {
        Measurement b = Made('b');
        Comparison c = Comparison.Of(First, b with { Intervals = [b.Intervals[0], b.Intervals[1] with { Seen = b.Intervals[1].Seen! with { GapMm = 2 * b.Intervals[1].Seen!.GapMm } }] });
        Assert.Equal(Math.Sqrt(2) * First.Intervals[0].Seen!.GapMm, c.Pairs[0].Gap!.UncertaintyMm, 9);
        Assert.Contains(c.Changes, s => s.Contains("was not seen alike in both", StringComparison.Ordinal));
    }

    [Fact]
    public void AGuideThatWasSlidIsSeenAnewAndSoAreItsPairs()
    {
        Measurement after = Slid(Made('b'), 12);
        after = after with { Intervals = [after.Intervals[0], after.Intervals[1] with { Bow = after.Intervals[1].Bow with { Mm = 12 } }] };
        Comparison c = Comparison.Of(First, after);
        GuideMatch moved = Assert.Single(c.Guides, g => g.HasMoved);
        Assert.Equal(-12, moved.MovedMm!.Value, 9);
        double scale = c.Stand!.ScaleShare;
        Assert.Equal(Math.Sqrt((2 * 0.9 * 0.9) + Math.Pow(scale * 12, 2)), moved.UncertaintyMm!.Value, 9);
        Assert.Equal(Math.Sqrt((2 * 0.28 * 0.28) + Math.Pow(scale * 7.4, 2)), c.Pairs[1].Bow!.UncertaintyMm, 9);
        Assert.Equal("Guide 2 moved 12.0 ±1.3 mm toward the tip: bow 2 to tip-top less by 7.4 ±0.4 mm, now 12.0 ±0.3 mm.", StepWords.Headline(c));
    }

    [Fact]
    public void ACameraThatWasTouchedMakesDifferencesLessSure()
    {
        Comparison c = Comparison.Of(First, Shifted(Made('b'), 3));
        Assert.False(c.Stand!.CameraStood);
        Assert.Equal(3, c.Stand.CameraShiftPx, 9);
        Assert.False(c.Stand.RodMoved); // the camera's own shift is taken off
        Assert.Equal(Math.Sqrt(2) * First.Intervals[0].Seen!.GapMm, c.Pairs[0].Gap!.UncertaintyMm, 9);
    }

    [Fact]
    public void ARodThatMovedIsSaidWithItsPlace()
    {
        Measurement after = Made('b');
        AxisSample[] axis = [.. after.Blank!.Axis.Select(a => a with { Px = a.Px + new Vec2(0, Math.Abs(a.SMm - 500) < 200 ? 4 : 0) })];
        Comparison c = Comparison.Of(First, after with { Blank = after.Blank with { Axis = axis } });
        Assert.True(c.Stand!.RodMoved);
        Assert.InRange(c.Stand.RodMovedMm, 1.2, 2.1);
        Assert.InRange(c.Stand.RodMovedAtMm, 290, 710);
        Assert.Contains(c.Changes, s => s.StartsWith("The rod itself moved, by up to", StringComparison.Ordinal));
    }

    [Fact]
    public void PhotosOfAnotherStandAreComparedAsBefore()
    {
        Measurement[] others =
        [
            Shifted(Made('b'), 60), // more than 1 % of 4032 px
            First, // the very same file tells nothing new
            Made('b') with { Intervals = [.. First.Intervals.Select(i => i with { Seen = null })] }, // a document made before
            Made('b') with { Photo = First.Photo! with { Sha256 = new string('b', 64), WidthPx = 3024, HeightPx = 4032 } },
            Made('b') with { Calibration = First.Calibration! with { Cards = [First.Calibration.Cards[0]] } },
        ];
        foreach (Measurement other in others)
        {
            Comparison c = Comparison.Of(First, other);
            Assert.Null(c.Stand);
            Assert.Equal(Math.Sqrt(2) * 0.6, c.Pairs[0].Gap!.UncertaintyMm, 9);
        }
    }

    [Fact]
    public void PhotosAreASeriesUntilTheStandChanges()
    {
        (string, Measurement)[] photos = [("1", First), ("2", Made('b')), ("refused", SampleMeasurement.Refused), ("3", Slid(Made('c'), 5)), ("4", Shifted(Made('d'), 100)), ("5", Shifted(Made('e'), 100))];
        IReadOnlyList<IReadOnlyList<SeriesPhoto>> series = PhotoSeries.Of(photos);
        Assert.Equal([["1", "2", "3"], ["4", "5"]], series.Select(s => s.Select(p => p.Id)));
        Assert.Null(series[1][0].Step);
        Assert.True(series[0][2].Step!.Guides.Single(g => g.Before == 2).HasMoved);
    }

    [Fact]
    public void TheTargetSaysWhatIsStillAboveIt()
    {
        // Running pairs of the sample: from its second guide on, one pair with bow 19.4 ±0.3.
        Assert.Equal(AgainstTarget.Above, Assert.Single(BowTarget.Of(First, 19)).Is);
        Assert.Equal(AgainstTarget.Open, Assert.Single(BowTarget.Of(First, 19.3)).Is);
        Assert.Equal(AgainstTarget.Met, Assert.Single(BowTarget.Of(First, 20)).Is);
    }

    [Fact]
    public void RenderedPhotosFromOneStandAgreeWithinWhatIsStated()
    {
        // Two photos of one rendered scene, other noise, and a third with guide 4 slid by exactly 12 mm (the scene's own truth).
        SceneOptions scene = RandomScenes.Good(7301, 0.3);
        double by = Math.Sqrt(5e6 / ((double)scene.WidthPx * scene.HeightPx));
        scene = scene with { WidthPx = 8 * (int)(scene.WidthPx * by / 8), HeightPx = 8 * (int)(scene.HeightPx * by / 8) };
        (Measurement a, Truth truth) = Photographed(scene with { NoiseSeed = 1 });
        (Measurement b, _) = Photographed(scene with { NoiseSeed = 2 });
        (Measurement c, Truth slid) = Photographed(scene with { NoiseSeed = 3, Moved = (4, 12) });
        Comparison still = Comparison.Of(a, b);
        Assert.True(still.Stand is { IsStill: true });
        Assert.DoesNotContain(still.Guides, g => g.HasMoved);
        Assert.All(still.Pairs, p => Assert.True(Math.Abs(p.Gap!.ByMm) <= 1.5 * p.Gap.UncertaintyMm && p.Gap.UncertaintyMm <= 0.55 * p.Before!.Gap.UncertaintyMm));
        Comparison step = Comparison.Of(a, c);
        GuideMatch moved = step.Guides.Single(g => g.Before == 4);
        Assert.True(moved.HasMoved);
        double exact = slid.Guides[3].FromTipMm - truth.Guides[3].FromTipMm;
        Assert.InRange(moved.MovedMm!.Value, exact - moved.UncertaintyMm!.Value, exact + moved.UncertaintyMm.Value);
        Assert.False(step.Stand!.RodMoved);
        Assert.StartsWith("Guide 4 moved 1", StepWords.Headline(step), StringComparison.Ordinal);
    }

    private static (Measurement Measurement, Truth Truth) Photographed(SceneOptions options)
    {
        Scene scene = new(options);
        string path = Path.Combine(Path.GetTempPath(), $"series-{Path.GetRandomFileName()}.jpg");
        try
        {
            File.WriteAllBytes(path, scene.RenderJpeg());
            return (MeasurePipeline.Measure(path, MeasureOptions.Default), scene.Truth);
        }
        finally
        {
            File.Delete(path);
        }
    }
}
