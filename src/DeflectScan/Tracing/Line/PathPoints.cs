using DeflectScan.Geometry;

namespace DeflectScan.Tracing.Line;

/// <summary>A point of the line as the band shows it.</summary>
/// <param name="Station">mm from the provisional tip.</param>
/// <param name="HeightMm">Above the axis.</param>
/// <param name="PlaneMm">The point in the rod plane.</param>
/// <param name="SdMm">Standard deviation across the line; double.MaxValue where the line was not seen.</param>
internal readonly record struct PathPoint(double Station, double HeightMm, Vec2 PlaneMm, double SdMm);

/// <summary>Sharpens a band path: at every half block the level where the likelihood peaks.</summary>
internal static class PathPoints
{
    private const int Reach = 5;

    public static List<PathPoint> Sharpen(LikelihoodMap map, BlockEvidence evidence, BandPath path)
    {
        List<PathPoint> points = [];
        int half = evidence.BlockColumns / 2;
        double[] sums = new double[(2 * Reach) + 1];
        for (int i = 0; i < path.Rises.Count; i++)
        {
            for (int part = 0; part < 2; part++)
            {
                int column = ((path.FirstBlock + i) * evidence.BlockColumns) + (part * half);
                double start = path.Levels[i] + (path.Rises[i] * 0.5 * part);
                double slope = (double)path.Rises[i] / evidence.BlockColumns;
                for (int d = -Reach; d <= Reach; d++)
                {
                    sums[d + Reach] = 0;
                    for (int c = 0; c < half; c++)
                    {
                        int level = (int)Math.Round(start + (slope * (c + 0.5))) + d;
                        if (level >= 0 && level < map.Strip.Levels)
                            sums[d + Reach] += map.Column(column + c)[level];
                    }
                }

                points.Add(Peak(map.Strip, column + (half / 2.0) - 0.5, start + (slope * half / 2.0), sums));
            }
        }

        return points;
    }

    private static PathPoint Peak(BandStrip strip, double column, double level, double[] sums)
    {
        int best = 1;
        for (int i = 1; i < sums.Length - 1; i++)
        {
            if (sums[i] > sums[best])
                best = i;
        }

        double bend = (2 * sums[best]) - sums[best - 1] - sums[best + 1];
        double between = bend > 0 ? Math.Clamp((sums[best + 1] - sums[best - 1]) / (2 * bend), -0.6, 0.6) : 0;
        double height = strip.Height(level + best - Reach + between);
        double weight = Math.Clamp((sums[best] - 3) / 10, 0, 1);
        double sd = weight <= 0.01 ? double.MaxValue : 0.25 * strip.PxMm / Math.Sqrt(weight);
        return new PathPoint(strip.Station(column), height, strip.PlanePoint(column, height), sd);
    }
}
