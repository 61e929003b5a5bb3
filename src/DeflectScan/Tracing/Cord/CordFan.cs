using DeflectScan.Calibration;
using DeflectScan.Geometry;
using DeflectScan.Imaging;
using DeflectScan.Tracing.Line;

namespace DeflectScan.Tracing.Cord;

/// <summary>A way that the cord may take: from a point beside the tip in a direction of the rod plane.</summary>
internal readonly record struct CordWay(Vec2 StartMm, double AngleRad, double Score)
{
    public Vec2 Direction => new(Math.Cos(AngleRad), Math.Sin(AngleRad));
}

/// <summary>
/// The fan of rays from the tip: bar response along each ray and beside it, summed over straight ways that pass the tip within a few mm.
/// </summary>
internal sealed class CordFan
{
    private const double StepRad = 0.3 * Math.PI / 180;
    private const double StepMm = 2.5;
    private const double SideMm = 4.2; // how far beside a bar its background is read
    private const double HalfBarMm = 0.5;
    private const float Most = 60; // response beyond which more contrast is no more evidence
    private const double ApartRad = 2.5 * Math.PI / 180;
    private const int MostWays = 4;

    private readonly Vec2 _tip;
    private readonly double _first;
    private readonly double[] _radii;
    private readonly float[][] _response;

    private CordFan(Vec2 tip, double first, double[] radii, float[][] response)
    {
        _tip = tip;
        _first = first;
        _radii = radii;
        _response = response;
    }

    /// <summary>Reads the fan.</summary>
    /// <param name="sampler">The photo.</param>
    /// <param name="plane">The rod plane.</param>
    /// <param name="tip">The blank's tip, mm.</param>
    /// <param name="fromRad">Direction of the first ray.</param>
    /// <param name="toRad">Direction of the last ray, larger.</param>
    /// <param name="options">Distances.</param>
    public static CordFan Read(PhotoSampler sampler, RodPlane plane, Vec2 tip, double fromRad, double toRad, CordOptions options)
    {
        int rays = (int)Math.Ceiling((toRad - fromRad) / StepRad) + 1;
        double[] radii = [.. Enumerable.Range(0, (int)((options.SearchToMm - options.FromMm) / StepMm)).Select(i => options.FromMm + (StepMm * i))];
        float[][] response = new float[radii.Length][];
        Parallel.For(0, radii.Length, i =>
        {
            float[] colours = new float[3 * rays];
            for (int k = 0; k < rays; k++)
            {
                double angle = fromRad + (k * StepRad);
                Vec2 px = plane.ToPhoto(tip + new Vec2(radii[i] * Math.Cos(angle), radii[i] * Math.Sin(angle)));
                bool inside = sampler.Contains(px, 3);
                (double luma, double redGreen, double blueYellow) = inside ? sampler.At(px) : (double.NaN, double.NaN, double.NaN);
                (colours[3 * k], colours[(3 * k) + 1], colours[(3 * k) + 2]) = ((float)luma, (float)redGreen, (float)blueYellow);
            }

            response[i] = Response(colours, rays, radii[i] * StepRad);
        });
        return new CordFan(tip, fromRad, radii, response);
    }

    /// <summary>The strongest ways, best first, some degrees apart.</summary>
    public List<CordWay> Strongest(double offsetMm)
    {
        int rays = _response[0].Length;
        CordWay[] best = new CordWay[rays];
        Parallel.For(0, rays, k =>
        {
            double angle = _first + (k * StepRad);
            Vec2 normal = new(-Math.Sin(angle), Math.Cos(angle));
            for (double offset = -offsetMm; offset <= offsetMm; offset += 1)
            {
                float sum = 0;
                for (int i = 0; i < _radii.Length; i++)
                {
                    int at = k + (int)Math.Round(Math.Atan(offset / _radii[i]) / StepRad);
                    if (at >= 0 && at < rays)
                        sum += _response[i][at];
                }

                if (sum > best[k].Score)
                    best[k] = new CordWay(_tip + (normal * offset), angle, sum);
            }
        });
        List<CordWay> ways = [];
        foreach (CordWay way in best.OrderByDescending(w => w.Score).ThenBy(w => w.AngleRad))
        {
            if (ways.Count == MostWays || way.Score <= 0)
                break;
            if (ways.TrueForAll(w => Math.Abs(w.AngleRad - way.AngleRad) > ApartRad))
                ways.Add(way);
        }

        return ways;
    }

    // The lesser difference to the two sides, where both have one sign, summed over luma and the two colour differences.
    private static float[] Response(float[] colours, int rays, double acrossMm)
    {
        float[] response = new float[rays];
        int half = (int)Math.Round(HalfBarMm / acrossMm);
        int side = Math.Max(half + 2, (int)Math.Round(SideMm / acrossMm));
        for (int k = side; k < rays - side; k++)
        {
            float sum = 0;
            for (int c = 0; c < 3; c++)
            {
                float bar = 0;
                for (int j = -half; j <= half; j++)
                    bar += colours[(3 * (k + j)) + c];
                bar /= (2 * half) + 1;
                float low = bar - colours[(3 * (k - side)) + c];
                float high = bar - colours[(3 * (k + side)) + c];
                if (low * high > 0)
                    sum += Math.Min(Math.Abs(low), Math.Abs(high));
            }

            response[k] = Math.Min(sum, Most);
        }

        return response;
    }
}
