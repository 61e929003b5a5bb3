using DeflectScan.Geometry;

namespace DeflectScan.Scenes.Rendering.World;

/// <summary>
/// How one guide stands on the blank: its ring tilted in the rod plane, the whole turned about the blank's axis and about its own height.
/// The line stays in the rod plane, so it can pass where the ring's opening meets that plane: a chord, found exactly here.
/// </summary>
public sealed class GuideStance
{
    private readonly Vec3 _foot;
    private readonly Vec3 _along;
    private readonly Vec3 _up;
    private readonly Vec3 _side;
    private readonly double _cosAskew;
    private readonly double _sinAskew;

    /// <param name="blank">The bent blank.</param>
    /// <param name="plan">The guide.</param>
    /// <param name="away">Unit direction from the axis to the ring in the rod plane.</param>
    /// <param name="lineRadiusMm">Half the line's diameter.</param>
    public GuideStance(BentBlank blank, GuidePlan plan, Vec2 away, double lineRadiusMm)
    {
        Plan = plan;
        double play = (plan.InnerMm / 2) - lineRadiusMm;

        // Turned so far that the rod plane would miss the opening's middle part, the line would drag the guide back: turn it less.
        double most = Math.Asin(Math.Min(1, 0.5 * play / plan.HeightMm));
        double twist = Math.Clamp(plan.TwistDeg * Math.PI / 180, -most, most);
        (double sin, double cos) = Math.SinCos(twist);
        (_sinAskew, _cosAskew) = Math.SinCos(plan.AskewDeg * Math.PI / 180);
        TwistRadians = twist;
        _foot = Vec3.InPlane(blank.Point(plan.StationMm));
        _along = Vec3.InPlane(blank.Tangent(plan.StationMm));
        _up = (Vec3.InPlane(away) * cos) + new Vec3(0, 0, sin);
        _side = new Vec3(0, 0, cos) - (Vec3.InPlane(away) * sin);
        (double sinLean, double cosLean) = Math.SinCos(plan.LeanDeg * Math.PI / 180);
        Centre = At(0, plan.HeightMm, 0);
        RingUp = At(sinLean, cosLean, 0) - _foot;
        RingSide = At(0, 0, 1) - _foot;
        (Vec2 near, Vec2 far) = Chord(play);
        Middle = (near + far) / 2;
        Disc = (far - near).Normalized();
        PlayMm = near.DistanceTo(far) / 2;
    }

    public GuidePlan Plan { get; }

    public double TwistRadians { get; }

    /// <summary>The ring's centre.</summary>
    public Vec3 Centre { get; }

    /// <summary>Unit directions in the ring's disc.</summary>
    public Vec3 RingUp { get; }

    public Vec3 RingSide { get; }

    /// <summary>Middle, direction (near to far rim) and half length of the chord on which the line's centre can lie, in the rod plane.</summary>
    public Vec2 Middle { get; }

    public Vec2 Disc { get; }

    public double PlayMm { get; }

    /// <summary>A point of the guide: along its foot, above the axis, sideways; mm.</summary>
    public Vec3 At(double along, double height, double side) =>
        _foot + (_along * ((along * _cosAskew) - (side * _sinAskew))) + (_up * height) + (_side * ((along * _sinAskew) + (side * _cosAskew)));

    private (Vec2 Near, Vec2 Far) Chord(double play)
    {
        // Points centre + a up + b side with z = 0 and a^2 + b^2 = play^2.
        double k = RingUp.Z / RingSide.Z;
        double c = Centre.Z / RingSide.Z;
        double root = Math.Sqrt(Math.Max(0, (k * c * k * c) - ((1 + (k * k)) * ((c * c) - (play * play)))));
        return (On(((-k * c) - root) / (1 + (k * k))), On(((-k * c) + root) / (1 + (k * k))));

        Vec2 On(double a) => (Centre + (RingUp * a) - (RingSide * (c + (k * a)))).Flat;
    }
}
