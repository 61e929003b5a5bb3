using DeflectScan.Geometry;
using DeflectScan.Photos;
using DeflectScan.Reporting;
using DeflectScan.Reporting.Drawing;
using DeflectScan.Scenes;
using OpenCvSharp;
using Box = DeflectScan.Reporting.Drawing.Box;

namespace DeflectScan.Tests.Reporting;

/// <summary>Headline and picture name one figure, by documents of exact truth: the clearance outside the bend, the bow inside.</summary>
public class WorstFigureTests
{
    [Theory]
    [InlineData("casting-top", "clearance")]
    [InlineData("clean-spinning", "bow")]
    public void TheMarkedLabelSaysTheHeadlinesFigure(string name, string by)
    {
        using UprightPhoto photo = ScenePhoto.Open(Path.Combine(Repository.TestImages, name));
        Measurement m = TruthDocument.Of(name);
        IntervalReport pair = m.FollowsWorst!;
        double mm = by == "bow" ? pair.BowMm : pair.ClearanceMm;
        using Picture picture = new(1000, 750);
        RodSketch sketch = new(m, 1000.0 / photo.Bgr.Cols, 0);
        OverlayLabels labels = new(m, sketch, new OverlayMarks(m, sketch, picture.Brush), picture.Brush, new Box(new Vec2(500, 375), 1000, 750));
        Assert.Contains($"{by} {mm:0.0} mm", labels.Texts);
        Assert.Contains($"{by} {mm:0.0} ±", OverlayWords.Headline(m), StringComparison.Ordinal);
        foreach (IntervalReport p in m.Intervals) // every pair keeps its gap
            Assert.Contains(labels.Texts, t => t.Split(' ')[0] == UnitsInSentences.Bare(p.GapMm, LengthUnit.Millimetres));
    }

    /// <summary>The mark lies where the figure is: the least clearance of the truth, a hand's breadth or more from the same pair's largest gap.</summary>
    [Fact]
    public void TheMarkLiesWhereTheFigureIs()
    {
        using UprightPhoto photo = ScenePhoto.Open(Path.Combine(Repository.TestImages, "casting-top"));
        Measurement m = TruthDocument.Of("casting-top");
        IntervalReport pair = m.FollowsWorst!;
        Assert.True(Math.Abs(pair.ClearanceAtMm - pair.GapAtMm) > 20);
        using Mat drawn = Cv2.ImDecode(Overlay.Draw(photo, m), ImreadModes.Color);
        double scale = (double)drawn.Cols / photo.Bgr.Cols;
        int top = 0;
        while (drawn.At<Vec3b>(top, 0) == drawn.At<Vec3b>(0, 0))
            top++;
        RodSketch sketch = new(m, scale, top);
        Assert.True(Magenta(pair.ClearanceAtMm) > 10, "no mark at the least clearance");
        Assert.Equal(0, Magenta(pair.GapAtMm));

        int Magenta(double station)
        {
            (Vec2 a, Vec2 b) = sketch.Across(pair, station);
            Vec2 at = Vec2.Lerp(a, b, 0.5);
            int count = 0;
            for (int y = -3; y <= 3; y++)
            {
                for (int x = -3; x <= 3; x++)
                {
                    Vec3b c = drawn.At<Vec3b>((int)at.Y + y, (int)at.X + x);
                    count += c is { Item2: > 110 and < 180, Item1: < 60, Item0: > 50 and < 110 } ? 1 : 0;
                }
            }

            return count;
        }
    }
}
