using DeflectScan.Calibration;
using DeflectScan.Geometry;

namespace DeflectScan.Scenes.Rendering.World;

/// <summary>Where the camera stands and how it sees: OpenCV's model, world-to-camera rotation R (rows right, down, forward).</summary>
public sealed class SceneCamera
{
    public SceneCamera(CameraModel lens, int widthPx, int heightPx, Vec3 position, double yawDeg, double pitchDeg, double rollDeg)
    {
        Lens = lens;
        WidthPx = widthPx;
        HeightPx = heightPx;
        Position = position;
        (YawDeg, PitchDeg, RollDeg) = (yawDeg, pitchDeg, rollDeg);
        (Right, Down, Forward) = Axes(yawDeg, pitchDeg, rollDeg);
    }

    public CameraModel Lens { get; }

    public int WidthPx { get; }

    public int HeightPx { get; }

    public Vec3 Position { get; }

    public double YawDeg { get; }

    public double PitchDeg { get; }

    public double RollDeg { get; }

    public Vec3 Right { get; }

    public Vec3 Down { get; }

    public Vec3 Forward { get; }

    /// <summary>The camera's axes: yaw turns its place about the vertical (positive: it stands to the right), pitch lifts it, roll turns the picture.</summary>
    public static (Vec3 Right, Vec3 Down, Vec3 Forward) Axes(double yawDeg, double pitchDeg, double rollDeg)
    {
        (double sy, double cy) = Math.SinCos(yawDeg * Math.PI / 180);
        (double sp, double cp) = Math.SinCos(pitchDeg * Math.PI / 180);
        (double sr, double cr) = Math.SinCos(rollDeg * Math.PI / 180);
        Vec3 forward = new(-sy * cp, -sp, -cy * cp);
        Vec3 right = new(cy, 0, -sy);
        Vec3 down = forward.Cross(right);
        return ((right * cr) - (down * sr), (right * sr) + (down * cr), forward);
    }

    public SceneCamera MovedTo(Vec3 position) => new(Lens, WidthPx, HeightPx, position, YawDeg, PitchDeg, RollDeg);

    public Vec2 Project(Vec3 world)
    {
        Vec3 d = world - Position;
        double depth = Forward.Dot(d);
        return Lens.Distort(new Vec2(Right.Dot(d) / depth, Down.Dot(d) / depth));
    }

    public Vec2 Project(Vec2 planeMm) => Project(Vec3.InPlane(planeMm));

    /// <summary>Direction (not of unit length) of the ray through a normalised pinhole point.</summary>
    public Vec3 Ray(Vec2 normalised) => (Right * normalised.X) + (Down * normalised.Y) + Forward;

    public bool IsInside(Vec2 px, double marginPx) =>
        px.X >= marginPx && px.Y >= marginPx && px.X <= WidthPx - 1 - marginPx && px.Y <= HeightPx - 1 - marginPx;
}
