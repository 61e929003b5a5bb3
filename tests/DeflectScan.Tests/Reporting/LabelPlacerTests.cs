using CsCheck;
using DeflectScan.Geometry;
using DeflectScan.Reporting.Drawing;

namespace DeflectScan.Tests.Reporting;

public class LabelPlacerTests
{
    private static readonly Box Frame = new(new Vec2(500, 400), 1000, 800);

    /// <summary>Labels along an arc of any length and turn, 4 to 14 of them, as a rod's gaps crowd towards the tip.</summary>
    private static readonly Gen<(int Count, double Radius, double Start, double Span)> Arcs =
        Gen.Select(Gen.Int[4, 14], Gen.Double[330, 520], Gen.Double[25, 60], Gen.Double[60, 95]);

    [Fact]
    public void NoLabelCoversAnotherOrTheRodOrLeavesThePicture() => Arcs.Sample(arc =>
    {
        (Vec2[] rod, LabelRequest[] requests) = Scene(arc.Count, arc.Radius, arc.Start, arc.Span);
        LabelPlacer placer = new(Frame, 1);
        placer.KeepClear(rod, 6);
        IReadOnlyList<Box> boxes = placer.Arrange(requests).Boxes;
        for (int i = 0; i < boxes.Count; i++)
        {
            Assert.Equal(0, boxes[i].Outside(Frame), 9);
            for (int k = 1; k < rod.Length; k++)
                Assert.False(boxes[i].Meets(rod[k - 1], rod[k]), $"label {i} hides the rod");
            for (int j = 0; j < i; j++)
                Assert.False(boxes[i].Overlaps(boxes[j]), $"labels {i} and {j} overlap");
        }
    }, iter: 40);

    [Fact]
    public void TheSameLabelsGoToTheSamePlaces()
    {
        (Vec2[] rod, LabelRequest[] requests) = Scene(12, 420, 40, 90);
        IReadOnlyList<Box>[] runs = [.. Enumerable.Range(0, 3).Select(_ =>
        {
            LabelPlacer placer = new(Frame, 1);
            placer.KeepClear(rod, 6);
            return placer.Arrange(requests).Boxes;
        })];
        Assert.Equal(runs[0], runs[1]);
        Assert.Equal(runs[0], runs[2]);
    }

    [Fact]
    public void ALoneLabelStandsStraightOutAtItsLeastDistance()
    {
        Box box = new LabelPlacer(Frame, 1).Arrange([new LabelRequest(new Vec2(500, 500), new Vec2(0, -1), 80, 30, 16)]).Boxes[0];
        Assert.Equal(500, box.Centre.X, 6);
        Assert.Equal(500 - 16, box.Bottom, 6);
    }

    private static (Vec2[] Rod, LabelRequest[] Requests) Scene(int count, double radius, double startDegrees, double spanDegrees)
    {
        Vec2 centre = new(420, 660);
        Vec2 On(double share, double r)
        {
            double a = (180 - startDegrees - (spanDegrees * share)) * Math.PI / 180;
            return new(centre.X + (r * Math.Cos(a)), centre.Y - (r * Math.Sin(a)));
        }

        Vec2[] rod = [.. Enumerable.Range(0, 101).Select(i => On(i / 100.0, radius))];
        LabelRequest[] requests = [.. Enumerable.Range(1, count).Select(i => Math.Pow(i / (count + 1.0), 0.7)).Select(share =>
            new LabelRequest(On(share, radius), (On(share, radius) - centre).Normalized(), 62, 33, 16))];
        return (rod, requests);
    }
}
