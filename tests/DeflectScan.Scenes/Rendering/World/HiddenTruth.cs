using DeflectScan.Scenes.Rendering.Paint;

namespace DeflectScan.Scenes.Rendering.World;

/// <summary>What things in front of the rod hide: stretches of its axis to a mm, and ring contacts.</summary>
public static class HiddenTruth
{
    /// <summary>More of the bare blank hidden than this and nobody can vouch for the axis, mm.</summary>
    public const double BareMm = 25;

    /// <summary>From and to of every stretch whose axis is covered, s from the butt, mm, butt first.</summary>
    public static IReadOnlyList<double[]> Stretches(RodBuild rod, SceneCamera camera, Foreground front)
    {
        List<double[]> all = [];
        if (front.All.Count == 0)
            return all;
        double? from = null;
        double last = 0;
        for (double s = 0; s <= rod.Blank.LengthMm; last = s, s += 1)
        {
            bool hidden = front.Hides(camera.Project(rod.Blank.Point(s)));
            if (hidden)
                from ??= s;
            else if (from is { } start)
            {
                all.Add([start, last]);
                from = null;
            }
        }

        if (from is { } open)
            all.Add([open, rod.Blank.LengthMm]);
        return all;
    }

    /// <summary>So little is hidden that the photo must still measure.</summary>
    public static bool StillMeasures(Truth truth) =>
        (truth.Hidden ?? []).Sum(h => Math.Max(0, h[1] - Math.Max(h[0], truth.Blank.VisibleFromSMm))) <= BareMm && !truth.Guides.Any(g => g.Hidden);
}
