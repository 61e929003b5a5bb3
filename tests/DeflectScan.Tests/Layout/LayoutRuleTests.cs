using DeflectScan.Geometry;
using DeflectScan.Layout;
using DeflectScan.Scenes;

namespace DeflectScan.Tests.Layout;

public class LayoutRuleTests
{
    /// <summary>
    /// Against the truth files, whose figures come from another program with another method. What is left is the truth's own sampling:
    /// it names a bow on a 5 mm grid's polyline.
    /// </summary>
    [Theory]
    [MemberData(nameof(TruthShape.Names), MemberType = typeof(TruthShape))]
    public void FiguresAgreeWithTheTruth(string name)
    {
        Truth truth = Repository.Truth(name);
        BlankShape blank = TruthShape.Blank(truth);
        GuideSide side = TruthShape.Side(truth);
        TruthVertex reel = truth.Line.Vertices[0];
        RingPoint start = RingPoint.Seen(blank, new Vec2(reel.X, reel.Y));
        IReadOnlyList<RingPoint> rings = TruthShape.Rings(truth, blank);
        Vec2? hangs = truth.Line.HangsToMm is { } h ? new Vec2(h[0], h[1]) : null;
        LayoutResult result = LayoutRule.Evaluate(blank, [start, .. rings], side, null, hangs);
        Assert.Equal(truth.Intervals.Count, result.Intervals.Count);
        for (int i = 0; i < truth.Intervals.Count; i++)
        {
            TruthInterval t = truth.Intervals[i];
            Interval m = result.Intervals[i];
            Near(t.ChordMm, m.ChordMm, "chord", i);
            Near(t.GapMm, m.GapMm, "gap", i);
            Near(t.BowMm, m.BowMm, "bow", i);
            Near(t.ClearanceMm, m.ClearanceMm, "clearance", i);
            Assert.Equal(m.ClearanceMm <= 0, m.TouchesBlank);
        }

        for (int i = 0; i < truth.Guides.Count; i++)
        {
            Near(truth.Guides[i].FromTipMm, rings[i].StationMm, "station", i);
            Near(truth.Guides[i].HeightMm, rings[i].DistanceMm, "height", i);
            Assert.Equal(side, rings[i].Side);
            if (result.LineAnglesDeg[i + 1] is { } angle && !truth.Line.Vertices.Any(v => v.Kind == "blank"))
                Near(truth.Guides[i].LineAngleDeg, angle, "angle", i);
        }

        LayoutResult pairs = LayoutRule.Evaluate(blank, rings, side);
        Assert.Equal(truth.Largest.Gap.From - 1, pairs.LargestGap);
        Assert.Equal(truth.Largest.Bow.From - 1, pairs.LargestBow);
        void Near(double expected, double actual, string what, int i) =>
            Assert.True(Math.Abs(expected - actual) < 0.02, $"{what} {i}: {actual:F4} is not {expected:F4}");
    }
}
