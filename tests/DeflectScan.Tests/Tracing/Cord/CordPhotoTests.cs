using DeflectScan.Calibration;
using DeflectScan.Geometry;
using DeflectScan.Scenes;
using DeflectScan.Tests.Pipeline;
using DeflectScan.Tracing;

namespace DeflectScan.Tests.Tracing.Cord;

/// <summary>The cord on whole photos against the exact force direction of their truth files; light and dark cords, cards and clutter behind them.</summary>
[Collection(Measured.Collection)]
public class CordPhotoTests
{
    public static TheoryData<string> Photos => [.. Measured.Good];

    [Theory]
    [MemberData(nameof(Photos))]
    public void TheCordsDirectionAgainstTheBlankIsRight(string name)
    {
        Measurement m = Measured.Photo(name);
        Truth truth = Repository.Truth(name);
        PullReport pull = m.Pull!;
        Assert.Equal(Source.Traced, pull.Source);
        Assert.Equal(2, pull.CordPx.Count);

        // The measurement's frame laid on the truth's by the axis itself.
        RodPlane world = truth.RodPlane();
        RigidMotion motion = RigidMotion.Fit([.. m.Blank!.Axis.Select(a => a.Mm)], [.. m.Blank.Axis.Select(a => world.ToPlane(a.Px))]);
        double off = Math.IEEERemainder(pull.DirectionDeg!.Value + (motion.AngleRad * 180 / Math.PI) - truth.Blank.ForceDirectionDeg, 360);
        Assert.True(Math.Abs(off) < 0.1, $"{name}: the cord's direction is {off:0.000} degrees off");
        Assert.InRange(Math.Abs(off), 0, pull.DirectionUncertaintyDeg!.Value);
        Assert.InRange(pull.DirectionUncertaintyDeg.Value, 0.1, 0.6);
    }

    [Theory]
    [MemberData(nameof(Photos))]
    public void TheAxisStatesTheUncertaintyOfItsShape(string name)
    {
        Measurement m = Measured.Photo(name);
        RodPlane world = Repository.Truth(name).RodPlane();
        ArcCurve truth = ArcCurve.Through([.. Repository.Truth(name).Blank.Samples.Select(s => new Vec2(s.X, s.Y))]);
        RigidMotion motion = RigidMotion.Fit([.. m.Blank!.Axis.Select(a => a.Mm)], [.. m.Blank.Axis.Select(a => world.ToPlane(a.Px))]);
        int inside = m.Blank.Axis.Count(a => Math.Abs(truth.Nearest(motion.Apply(a.Mm)).Offset) <= 2 * a.AcrossUncertaintyMm!.Value);
        Assert.True(inside >= 0.9 * m.Blank.Axis.Count, $"{name}: {inside} of {m.Blank.Axis.Count} places within twice their uncertainty");
    }
}
