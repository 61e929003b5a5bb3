using DeflectScan.Calibration;
using DeflectScan.Geometry;
using DeflectScan.Imaging;
using DeflectScan.Tracing.Line;

namespace DeflectScan.Tracing.Cord;

/// <summary>
/// A straight band of the photo along a way, in blocks of some mm along it: each block is one profile across the way. Prefix sums make any
/// stretch's mean cheap.
/// </summary>
internal sealed class CordStrip
{
    public const double BlockMm = 12;
    private const int RowsABlock = 6;
    private const double HalfMm = 9;

    private readonly float[][] _sums; // three a level, one more level than the profile

    private CordStrip(CordWay way, double stepMm, int levels, double fromMm, float[][] sums)
    {
        Way = way;
        StepMm = stepMm;
        Levels = levels;
        FromMm = fromMm;
        _sums = sums;
    }

    public CordWay Way { get; }

    /// <summary>Distance of two levels across the way, mm.</summary>
    public double StepMm { get; }

    public int Levels { get; }

    public double FromMm { get; }

    public int Blocks => _sums.Length;

    /// <summary>Distance of a block's middle from the start, mm.</summary>
    public double DistanceMm(int block) => FromMm + ((block + 0.5) * BlockMm);

    /// <summary>Place across the way (to its left) of a level, mm.</summary>
    public double AcrossMm(double level) => (level - (0.5 * (Levels - 1))) * StepMm;

    public double Level(double acrossMm) => (acrossMm / StepMm) + (0.5 * (Levels - 1));

    /// <summary>Mean of channel c over the levels from <paramref name="from"/> to <paramref name="to"/>, both included.</summary>
    public float Mean(int block, int channel, int from, int to)
    {
        float[] sums = _sums[block];
        return (sums[(3 * (to + 1)) + channel] - sums[(3 * from) + channel]) / (to - from + 1);
    }

    public float Value(int block, int channel, int level) => Mean(block, channel, level, level);

    /// <summary>Reads the band until it leaves the photo.</summary>
    public static CordStrip Read(PhotoSampler sampler, RodPlane plane, CordWay way, CordOptions options)
    {
        double stepMm = Math.Max(0.25, 0.5 * plane.MmPerPx(way.StartMm));
        int half = (int)Math.Ceiling(HalfMm / stepMm);
        int levels = (2 * half) + 1;
        Vec2 d = way.Direction;
        Vec2 n = d.Perpendicular;
        int blocks = 0;
        while (options.FromMm + ((blocks + 1) * BlockMm) < options.FollowToMm)
        {
            Vec2 end = way.StartMm + (d * (options.FromMm + ((blocks + 1) * BlockMm)));
            if (!sampler.Contains(plane.ToPhoto(end + (n * HalfMm)), 4) || !sampler.Contains(plane.ToPhoto(end - (n * HalfMm)), 4))
                break;
            blocks++;
        }

        float[][] sums = new float[blocks][];
        Parallel.For(0, blocks, b =>
        {
            float[] own = new float[3 * (levels + 1)];
            for (int l = 0; l < levels; l++)
            {
                Vec2 across = n * ((l - half) * stepMm);
                double luma = 0;
                double redGreen = 0;
                double blueYellow = 0;
                for (int r = 0; r < RowsABlock; r++)
                {
                    double at = options.FromMm + ((b + ((r + 0.5) / RowsABlock)) * BlockMm);
                    (double y, double rg, double by) = sampler.At(plane.ToPhoto(way.StartMm + (d * at) + across));
                    luma += y;
                    redGreen += rg;
                    blueYellow += by;
                }

                own[3 * (l + 1)] = own[3 * l] + (float)(luma / RowsABlock);
                own[(3 * (l + 1)) + 1] = own[(3 * l) + 1] + (float)(redGreen / RowsABlock);
                own[(3 * (l + 1)) + 2] = own[(3 * l) + 2] + (float)(blueYellow / RowsABlock);
            }

            sums[b] = own;
        });
        return new CordStrip(way, stepMm, levels, options.FromMm, sums);
    }
}
