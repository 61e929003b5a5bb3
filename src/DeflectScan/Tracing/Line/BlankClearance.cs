using DeflectScan.Geometry;

namespace DeflectScan.Tracing.Line;

/// <summary>
/// What a taut line cannot do: turn at a ring outside the band, or, on the outside of the bend, run straight through the blank from one ring to
/// the next. A ring is then missing between.
/// </summary>
internal sealed class BlankClearance(BlankAxis axis, double side, double bandMm, bool outside)
{
    private const double OutOfBandCost = 300;
    private const double ThroughCostPerMm = 60;

    /// <summary>A chord may cut the blank by this much and the line then lies on it.</summary>
    private const double AllowedMm = 1.5;

    private const int Places = 7;

    /// <summary>Cost of a polyline from the tip to the reel; the last piece, to the reel, is free.</summary>
    public double Cost(IReadOnlyList<Vec2> vertices)
    {
        double cost = 0;
        double? near = null;
        for (int i = 0; i + 1 < vertices.Count; i++)
        {
            if (i > 0)
            {
                double height = Height(vertices[i], ref near);
                if (height > bandMm || height < -3)
                    cost += OutOfBandCost;
            }

            if (!outside || i + 2 >= vertices.Count)
                continue;
            double depth = 0;
            for (int k = 1; k < Places; k++)
            {
                Vec2 p = Vec2.Lerp(vertices[i], vertices[i + 1], (double)k / Places);
                double height = Height(p, ref near);
                depth = Math.Max(depth, axis.RadiusMm(near!.Value) - height);
            }

            cost += ThroughCostPerMm * Math.Max(0, depth - AllowedMm);
        }

        return cost;
    }

    private double Height(Vec2 p, ref double? near)
    {
        (double s, double offset) = axis.Curve.Nearest(p, near);
        near = s;
        return offset * side;
    }
}
