using DeflectScan.Geometry;

namespace DeflectScan.Scenes.Rods;

/// <summary>
/// Gaps and bows of a layout on a curve, by brute force on many points: independent of the program's own. Rings stand on the curve's
/// normal side (from the tip, the inside of a rod that points right and is pulled down).
/// </summary>
/// <param name="StationsMm">Rings from the butt to the tip-top, mm from the tip.</param>
/// <param name="HeightsMm">Their heights above the axis, mm.</param>
public sealed record RodFigures(IReadOnlyList<double> StationsMm, IReadOnlyList<double> HeightsMm)
{
    /// <summary>The made-up rods' layout.</summary>
    public static RodFigures Synthetic { get; } = new(
        [.. SyntheticRod.RingsFromButtMm.Select(s => SyntheticRod.LengthMm - s)], SyntheticRod.RingHeightsMm);

    /// <summary>The largest gap over the pairs (from the axis, no radius taken off), mm.</summary>
    public double LargestGap(ArcCurve fromTip) => Gaps(fromTip).Max();

    public double LargestBow(ArcCurve fromTip) => Bows(fromTip).Max();

    /// <summary>Largest distance from a straight line between successive rings to the axis, a pair each.</summary>
    public IReadOnlyList<double> Gaps(ArcCurve fromTip)
    {
        List<Vec2> rings = [.. StationsMm.Zip(HeightsMm, (s, h) => fromTip.Point(s) + (fromTip.Normal(s) * h))];
        List<double> gaps = [];
        for (int i = 0; i + 1 < rings.Count; i++)
        {
            double near = StationsMm[i];
            double worst = 0;
            for (int k = 0; k <= 60; k++)
            {
                (near, double offset) = fromTip.Nearest(Vec2.Lerp(rings[i], rings[i + 1], k / 60.0), near);
                worst = Math.Max(worst, Math.Abs(offset));
            }

            gaps.Add(worst);
        }

        return gaps;
    }

    /// <summary>Largest distance of the axis between two stations from the chord that joins it there, a pair each.</summary>
    public IReadOnlyList<double> Bows(ArcCurve fromTip)
    {
        List<double> bows = [];
        for (int i = 0; i + 1 < StationsMm.Count; i++)
        {
            (double s0, double s1) = (StationsMm[i], StationsMm[i + 1]);
            Vec2 a = fromTip.Point(s0);
            Vec2 n = (fromTip.Point(s1) - a).Normalized().Perpendicular;
            bows.Add(Enumerable.Range(0, 81).Max(k => Math.Abs(n.Dot(fromTip.Point(s0 + ((s1 - s0) * k / 80)) - a))));
        }

        return bows;
    }
}
