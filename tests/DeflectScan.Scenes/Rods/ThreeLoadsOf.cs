using DeflectScan.Geometry;
using DeflectScan.Mechanics;

namespace DeflectScan.Scenes.Rods;

/// <summary>
/// One rod in exact shapes at three loads (tip turned 40, 68 and 98 degrees; no own weight, no rest curve): the truth files of three rendered
/// photographs, whose bends another program solved. Names: light, mid, deep.
/// </summary>
public static class ThreeLoadsOf
{
    public static Truth Load(string name) =>
        Repository.Truth($"loads-{name}");

    /// <summary>The blank from the tip to where the handle ends.</summary>
    public static ArcCurve Axis(Truth truth) => ArcCurve.Through([.. Seen(truth).Select(s => new Vec2(s.X, s.Y))]);

    public static RodFigures Layout(Truth truth) =>
        new([.. truth.Guides.Select(g => g.FromTipMm)], [.. truth.Guides.Select(g => g.HeightMm)]);

    public static MeasuredBend Measured(Truth truth, int seed, double noiseMm)
    {
        Random random = new(seed);
        return new MeasuredBend([.. Seen(truth).Select(s =>
        {
            double a = s.AngleDeg * Math.PI / 180;
            return new Vec2(s.X, s.Y) + (new Vec2(-Math.Sin(a), Math.Cos(a)) * (noiseMm * SyntheticRod.Normal(random)));
        })])
        {
            NormalSdMm = noiseMm,
            CordDirectionDeg = truth.Blank.ForceDirectionDeg,
            CordDirectionSdDeg = 0.1,
        };
    }

    private static List<TruthSample> Seen(Truth truth) =>
        [.. truth.Blank.Samples.Where(s => s.S >= truth.Blank.VisibleFromSMm).OrderByDescending(s => s.S)];
}
