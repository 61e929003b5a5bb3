using DeflectScan.Geometry;

namespace DeflectScan.Calibration.Lens;

/// <summary>How the boards are spread: over the frame, and in the ways they are turned.</summary>
internal sealed class LensViews
{
    private const int Across = 8;
    private const int Down = 6;
    private const double SameTurnDeg = 4;
    private const double SamePlaceShare = 0.05;

    public LensViews(IReadOnlyList<BoardView> views, IReadOnlyList<BoardPose> poses, int widthPx, int heightPx)
    {
        Vec2 middle = new((widthPx - 1) / 2.0, (heightPx - 1) / 2.0);
        Vec2[] all = [.. views.SelectMany(v => v.SensorPx)];
        Coverage = all.Select(p => (Cell(p.X, widthPx, Across), Cell(p.Y, heightPx, Down))).Distinct().Count() / (double)(Across * Down);
        OutermostShare = all.Max(p => p.DistanceTo(middle)) / middle.Length;
        Vec2[] centres = [.. views.Select(v => v.SensorPx.Aggregate((a, b) => a + b) / v.SensorPx.Count)];
        for (int i = 0; i < poses.Count; i++)
        {
            bool alike = false;
            for (int j = 0; j < i; j++)
            {
                double turn = AngleDeg(poses[i].Normal, poses[j].Normal);
                TurnDeg = Math.Max(TurnDeg, turn);
                double nearer = poses[i].Translation[2] / poses[j].Translation[2];
                alike |= turn < SameTurnDeg && Math.Abs(nearer - 1) < SamePlaceShare && centres[i].DistanceTo(centres[j]) < SamePlaceShare * widthPx;
            }

            Alike += alike ? 1 : 0;
        }
    }

    public double Coverage { get; }

    public double OutermostShare { get; }

    public double TurnDeg { get; }

    /// <summary>How many views are nearly copies of an earlier one.</summary>
    public int Alike { get; }

    private static int Cell(double at, int size, int cells) => Math.Clamp((int)(at / size * cells), 0, cells - 1);

    private static double AngleDeg((double X, double Y, double Z) a, (double X, double Y, double Z) b) =>
        Math.Acos(Math.Clamp((a.X * b.X) + (a.Y * b.Y) + (a.Z * b.Z), -1, 1)) * 180 / Math.PI;
}
