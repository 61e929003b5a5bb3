using DeflectScan.Geometry;

namespace DeflectScan.Scenes.Rendering.World;

/// <summary>Places the camera so that given points fill the picture.</summary>
public static class Framing
{
    /// <param name="camera">Lens, size and angles; its place is not used.</param>
    /// <param name="mustSee">World points that shall lie in the picture.</param>
    /// <param name="fill">Share of the picture's width or height, whichever is tighter, that the points shall take up.</param>
    public static SceneCamera Fit(SceneCamera camera, IReadOnlyList<Vec3> mustSee, double fill)
    {
        Vec3 target = new(mustSee.Average(p => p.X), mustSee.Average(p => p.Y), 0);
        double distance = 4000;
        SceneCamera fitted = camera.MovedTo(target - (camera.Forward * distance));
        for (int i = 0; i < 60; i++)
        {
            Vec2[] seen = [.. mustSee.Select(fitted.Project)];
            double width = seen.Max(p => p.X) - seen.Min(p => p.X);
            double height = seen.Max(p => p.Y) - seen.Min(p => p.Y);
            double midX = ((seen.Max(p => p.X) + seen.Min(p => p.X)) / 2) - ((camera.WidthPx - 1) / 2.0);
            double midY = ((seen.Max(p => p.Y) + seen.Min(p => p.Y)) / 2) - ((camera.HeightPx - 1) / 2.0);
            double mmPerPx = distance / camera.Lens.FocalPx;
            target += (camera.Right * (midX * mmPerPx)) + (camera.Down * (midY * mmPerPx));
            target = target with { Z = 0 };
            distance *= Math.Max(width / camera.WidthPx, height / camera.HeightPx) / fill;
            fitted = camera.MovedTo(target - (camera.Forward * distance));
        }

        return fitted;
    }

    /// <summary>Moves the camera sideways, the shortest way, until every one of some points has left the picture and the others are still in it.</summary>
    /// <exception cref="InvalidOperationException">No way up to three metres does that.</exception>
    public static SceneCamera PushOut(SceneCamera camera, IReadOnlyList<Vec3> gone, IReadOnlyList<Vec3> kept)
    {
        for (double shift = 0; shift < 3000; shift += 10)
        {
            foreach (Vec3 way in new[] { camera.Right * -1, camera.Right, camera.Down, camera.Down * -1 })
            {
                SceneCamera moved = camera.MovedTo(camera.Position + (way * shift));
                if (!gone.Any(Seen) && kept.All(Seen))
                    return moved;

                bool Seen(Vec3 p) => moved.IsInside(moved.Project(p), 0);
            }
        }

        throw new InvalidOperationException("No shift of the camera crops that end alone.");
    }
}
