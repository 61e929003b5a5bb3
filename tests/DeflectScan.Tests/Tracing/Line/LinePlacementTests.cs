using DeflectScan.Calibration;
using DeflectScan.Geometry;
using DeflectScan.Photos;
using DeflectScan.Scenes;
using DeflectScan.Tracing;
using DeflectScan.Tracing.Line;
using DeflectScan.Tracing.Reading;
using DeflectScan.Tracing.Rings;
using MathNet.Numerics.Distributions;

namespace DeflectScan.Tests.Tracing.Line;

/// <summary>The line through rings whose places are known as well as they are read: against the exact line in the truth files of rendered photographs.</summary>
public class LinePlacementTests
{
    [Theory]
    [InlineData("clean-spinning")]
    [InlineData("casting-top")]
    [InlineData("thin-braid")]
    [InlineData("wall-shadow")]
    public void The_line_is_found_where_it_runs(string name)
    {
        Truth truth = Repository.Truth(name);
        RodPlane plane = truth.RodPlane();
        BlankAxis axis = TruthAxis.Of(truth);
        double insideSign = StripFrame.Of(axis).InsideSign;
        bool inside = truth.Side == "inside";
        Random random = new(11);
        RingPlace[] exact = [.. truth.Guides.Reverse().Select(g => Place(axis, plane, insideSign, g))];
        RingPlace[] read = [.. exact.Select(p => p with
        {
            Station = p.Station + (p.AlongSdMm * Normal.Sample(random, 0, 1)),
            HeightMm = p.HeightMm + (p.AcrossSdMm * Normal.Sample(random, 0, 1)),
        })];
        using UprightPhoto photo = PhotoOpener.Open(Repository.Photo(name), PhotoLimits.Default).Value!;
        SeenLine line = SeenLine.Find(LineBand.Sample(photo, plane, axis, insideSign, inside, LineOptions.Default), read, insideSign);

        Assert.NotNull(line.Colour);
        Assert.Equal(read, line.Path.Vertices.Select(v => v.Ring).OfType<RingPlace>());
        Assert.Same(LineVertex.End, line.Path.Vertices[^1]);
        double[] off = [.. Offsets(truth, axis, insideSign, inside, line)];
        Assert.True(off.Length > 500, $"the line is placed over {off.Length} columns only");
        Assert.True(Quantile(off, 0.5) < 0.3, $"the line is {Quantile(off, 0.5):0.00} mm off at the median");
        Assert.True(Quantile(off, 0.95) < 1, $"the line is {Quantile(off, 0.95):0.00} mm off at the 95th percentile");
    }

    /// <summary>Where the line does not run there is no level.</summary>
    [Fact]
    public void Levels_are_those_of_the_straight_ways_and_none_beyond_them()
    {
        Truth truth = Repository.Truth("clean-spinning");
        BlankAxis axis = TruthAxis.Of(truth);
        using UprightPhoto photo = PhotoOpener.Open(Repository.Photo("clean-spinning"), PhotoLimits.Default).Value!;
        double insideSign = StripFrame.Of(axis).InsideSign;
        BandStrip strip = BandStrip.Sample(photo.Bgr, truth.RodPlane(), axis, insideSign, 1, (0, 500), (-12, 60));
        Vec2 At(double station, double height) => axis.Curve.Point(station) + (axis.Curve.Normal(station) * (insideSign * height));
        Vec2[] points = [At(80, 20), At(120, 24), At(300, 12)];
        double[] levels = new LinePath(points, [LineVertex.End, LineVertex.OnBlank, LineVertex.End], 0).Levels(strip);
        Assert.All(Enumerable.Range(0, 79), c => Assert.True(double.IsNaN(levels[c])));
        Assert.All(Enumerable.Range(302, 190), c => Assert.True(double.IsNaN(levels[c])));
        for (int c = 82; c < 299; c++)
        {
            // A point on the normal at this height lies on the chord: its distance from it is nothing.
            Vec2 on = At(c, strip.Height(levels[c]));
            (Vec2 a, Vec2 b) = c < 120 ? (points[0], points[1]) : (points[1], points[2]);
            Assert.InRange(Math.Abs((on - a).Cross((b - a).Normalized())), 0, 0.02);
        }
    }

    private static RingPlace Place(BlankAxis axis, RodPlane plane, double insideSign, TruthGuide guide)
    {
        (double s, double offset) = axis.Curve.Nearest(plane.ToPlane(new Vec2(guide.ContactPx[0], guide.ContactPx[1])));
        return new RingPlace(s, offset * insideSign, RingChoice.ReadAlongSdMm, RingChoice.ReadAcrossSdMm, Source.Traced);
    }

    /// <summary>Heights of the placed line against the truth's, mm, between the first guide and the tip-top, a ring's width beside the rings left out.</summary>
    private static IEnumerable<double> Offsets(Truth truth, BlankAxis axis, double insideSign, bool inside, SeenLine line)
    {
        double side = inside ? insideSign : -insideSign;
        Vec2[] vertices = [.. truth.Line.Vertices.Select(v => new Vec2(v.X, v.Y))];
        double[] rings = [.. truth.Guides.Select(g => axis.Curve.Nearest(new Vec2(g.ContactMm[0], g.ContactMm[1])).S)];
        double[] levels = line.Path.Levels(line.Strip);
        for (int i = 0; i + 1 < vertices.Length; i++)
        {
            for (double t = 0; t < 1; t += 2 / vertices[i].DistanceTo(vertices[i + 1]))
            {
                (double s, double offset) = axis.Curve.Nearest(Vec2.Lerp(vertices[i], vertices[i + 1], t));
                int c = (int)Math.Round(line.Strip.ColumnOf(s));
                if (s < rings.Min() || s > rings.Max() || rings.Any(r => Math.Abs(r - s) < 6) || double.IsNaN(levels[c]))
                    continue;
                yield return Math.Abs(line.Strip.Height(levels[c]) - (offset * side));
            }
        }
    }

    private static double Quantile(double[] values, double share) => values.Order().ElementAt((int)(share * (values.Length - 1)));
}
