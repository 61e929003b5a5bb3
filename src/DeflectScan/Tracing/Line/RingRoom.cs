using DeflectScan.Geometry;

namespace DeflectScan.Tracing.Line;

/// <summary>
/// Where on a straight piece of line a further ring could stand and not be told by it. A taut line turns in a ring, but for one whose rim happens to lie on
/// its straight way. Guides grow lower towards the tip (common practice, no source): beside a bent blank the straight way soon lies higher (inside the bend)
/// or lower (outside) than either neighbour, and there no ring does so.
/// </summary>
internal static class RingRoom
{
    /// <summary>By how much a guide may be taller than its neighbour towards the reel, or lower than that towards the tip, mm (chosen).</summary>
    private const double SlackMm = 1;

    /// <summary>Whether a ring on the straight way between two rings would be of a height that guides have.</summary>
    /// <param name="axis">The blank.</param>
    /// <param name="side">+1 where the guides stand on the side of the axis' normal, else -1.</param>
    /// <param name="isInside">Whether that is the inside of the bend.</param>
    /// <param name="tipwards">Contact of the ring towards the tip, rod-plane mm.</param>
    /// <param name="reelwards">Contact of the ring towards the reel.</param>
    /// <param name="station">Where on the blank, mm from the axis' end at the tip.</param>
    public static bool At(BlankAxis axis, double side, bool isInside, Vec2 tipwards, Vec2 reelwards, double station)
    {
        (double from, double first) = axis.Curve.Nearest(tipwards);
        (double to, double second) = axis.Curve.Nearest(reelwards);
        Vec2 on = Vec2.Lerp(tipwards, reelwards, (station - from) / (to - from));
        double height = axis.Curve.Nearest(on, station).Offset * side;
        return isInside ? height < Math.Max(first * side, second * side) + SlackMm : height > Math.Min(first * side, second * side) - SlackMm;
    }
}
