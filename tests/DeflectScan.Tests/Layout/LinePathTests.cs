using DeflectScan.Geometry;
using DeflectScan.Layout;
using DeflectScan.Layout.OnRings;
using DeflectScan.Scenes;
using DeflectScan.Scenes.Rods;

namespace DeflectScan.Tests.Layout;

public class LinePathTests
{
    /// <summary>A rope over a cylinder: free pieces are tangents, the wrap is what is left of the angle (plane geometry).</summary>
    [Fact]
    public void OverACircleTheLineRunsAlongTangents()
    {
        const double radius = 1000;
        BlankShape circle = new(
            ArcCurve.Through([.. Enumerable.Range(0, 1201).Select(i => (i - 100) / radius).Select(a => new Vec2(Math.Sin(a), 1 - Math.Cos(a)) * radius)]),
            _ => 2);
        RingPoint a = RingPoint.At(circle, 1000, 8, GuideSide.Outside);
        RingPoint b = RingPoint.At(circle, 300, 8, GuideSide.Outside);
        LinePath path = LinePath.Taut(circle, [a, b], GuideSide.Outside, lineRadiusMm: 0.2);
        BlankContact contact = Assert.Single(path.Contacts);
        double lead = Math.Acos((radius + 2.2) / (radius + 8));
        Assert.Equal((0.7 - (2 * lead)) * 180 / Math.PI, contact.WrapDeg, 0.15);
        Assert.Equal(1000 - (radius * lead), contact.StartMm, 1.5);
        Assert.Equal(300 + (radius * lead), contact.EndMm, 1.5);
        double length = path.Vertices.Zip(path.Vertices.Skip(1), (p, q) => p.PointMm.DistanceTo(q.PointMm)).Sum();
        Assert.Equal((2 * (radius + 8) * Math.Sin(lead)) + ((radius + 2.2) * (0.7 - (2 * lead))), length, 1e-3);
        Assert.Equal(0, path.Vertices[0].Ring);
        Assert.Equal(1, path.Vertices[^1].Ring);
    }

    /// <summary>The truth's line of a casting rod: it touches the blank between two rings only, as its own vertices say.</summary>
    [Fact]
    public void TheCastingRodsLineTouchesTheBlankWhereTheTruthSays()
    {
        Truth truth = Repository.Truth("casting-top");
        BlankShape blank = TruthShape.Blank(truth);
        LinePath path = LinePath.Taut(blank, TruthShape.Rings(truth, blank), GuideSide.Outside, truth.Line.DiameterMm / 2);
        int[] wrapped = [.. truth.Intervals.Skip(1).Select((v, i) => (v.WrapsBlank, i)).Where(p => p.WrapsBlank).Select(p => p.i)];
        Assert.NotEmpty(wrapped);
        Assert.Equal(wrapped, path.Contacts.Select(c => c.FromRing));
        foreach (TruthVertex v in truth.Line.Vertices.Where(v => v.Kind == "blank"))
            Assert.Contains(path.Vertices, p => p.PointMm.DistanceTo(new(v.X, v.Y)) < 6);
    }

    [Fact]
    public void InsideTheBendNothingIsInTheWay()
    {
        Truth truth = Repository.Truth("clean-spinning");
        BlankShape blank = TruthShape.Blank(truth);
        IReadOnlyList<RingPoint> rings = TruthShape.Rings(truth, blank);
        LinePath path = LinePath.Taut(blank, rings, GuideSide.Inside, 0.15);
        Assert.Empty(path.Contacts);
        Assert.Equal(rings.Select(r => r.PointMm), path.Vertices.Select(v => v.PointMm));
    }

    [Fact]
    public void OnACircleTheOnsetOfContactFollowsFromItsRadius()
    {
        // The chord of rings at height h over an arc of length l touches a blank of radius r when (R + h) cos(l / 2R) = R + r.
        const double l = 300, h = 9, r = 3;
        BlankShape blank = RandomBlank.Make(_ => 1 / 2000.0, 1000);
        BlankShape thick = new(blank.Axis, _ => r);
        RingPoint[] rings = [RingPoint.At(thick, 650, h, GuideSide.Outside), RingPoint.At(thick, 350, h, GuideSide.Outside)];
        ContactOnset? onset = ContactOnset.Find(thick, rings, GuideSide.Outside);
        Assert.NotNull(onset);
        double lo = 300, hi = 5000;
        while (hi - lo > 1e-6)
        {
            double middle = (lo + hi) / 2;
            if (((middle + h) * Math.Cos(l / 2 / middle)) > middle + r)
                hi = middle;
            else
                lo = middle;
        }

        Assert.Equal(2000 / hi, onset.Scale, 2e-3);
        Assert.Equal(onset.Scale * thick.TurnDeg, onset.TipTurnDeg, 1e-9);
        Assert.Null(ContactOnset.Find(thick, [.. rings.Select(p => RingPoint.At(thick, p.StationMm, 60, GuideSide.Outside))], GuideSide.Outside));
    }
}
