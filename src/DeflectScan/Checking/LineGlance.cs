using DeflectScan.Calibration;
using DeflectScan.Geometry;
using DeflectScan.Photos;
using DeflectScan.Tracing;
using DeflectScan.Tracing.Line;

namespace DeflectScan.Checking;

/// <summary>
/// A quick look for a line beside the blank: in short blocks along it, is there a thin straight mark of any slope? It neither follows the
/// line nor knows its rings; it says whether there is something to follow.
/// </summary>
internal static class LineGlance
{
    private const double BlockMm = 36;
    private const double ReachMm = 90;
    private const double SteepestSlope = 0.4;
    private const int NoiseEvery = 3;

    /// <summary>Share of the blank's length, 0 to 1, beside which a thin straight mark shows, on the side where more does.</summary>
    public static double SeenShare(UprightPhoto photo, RodPlane plane, BlankAxis axis, double evidence)
    {
        PhotoSampler sampler = new(photo.Bgr);
        int blocks = Math.Max(1, (int)(Math.Min(axis.HandleStationMm, axis.Curve.Length) / BlockMm));
        bool[][] seen = [new bool[blocks], new bool[blocks]];
        Parallel.For(0, 2 * blocks, i => seen[i % 2][i / 2] = Evidence(sampler, plane, axis, ((i / 2) + 0.5) * BlockMm, i % 2 == 0 ? 1 : -1) > evidence);
        return seen.Max(side => side.Count(s => s)) / (double)blocks;
    }

    /// <summary>Signal-to-noise of the best straight mark within one block on one side; 0 where the block leaves the photo.</summary>
    internal static double Evidence(PhotoSampler sampler, RodPlane plane, BlankAxis axis, double s, int side)
    {
        Vec2 middle = axis.Curve.Point(s);
        Vec2 along = axis.Curve.Tangent(s);
        Vec2 across = axis.Curve.Normal(s) * side;
        double px = plane.MmPerPx(middle);
        int columns = Math.Max(9, (int)(BlockMm / (2 * px)) | 1);
        double from = axis.RadiusMm(s) + (3 * px);
        int rows = (int)((ReachMm - from) / px);
        if (rows < 12)
            return 0;
        float[][] ridge = [new float[rows * columns], new float[rows * columns], new float[rows * columns]];
        double[][] line = [new double[rows], new double[rows], new double[rows]];
        int width = 0;
        for (int c = 0; c < columns; c++)
        {
            Vec2 foot = middle + (along * ((c - (columns / 2)) * 2 * px)) + (across * from);
            Vec2 at = plane.ToPhoto(foot);
            Vec2 step = (plane.ToPhoto(foot + (across * (rows * px))) - at) / rows; // straight to well under a px over so short a way
            int count = 0;
            while (count < rows && sampler.Contains(at + (step * count), 3))
            {
                (line[0][count], line[1][count], line[2][count]) = sampler.At(at + (step * count));
                count++;
            }

            width = Math.Max(width, count);
            for (int k = 0; k < 3; k++)
            {
                for (int r = 3; r < count - 3; r++)
                    ridge[k][(c * rows) + r] = (float)(line[k][r] - ((line[k][r - 3] + line[k][r + 3]) / 2));
            }
        }

        return ridge.Max(r => Best(r, columns, rows, width));
    }

    /// <summary>Largest sum along a straight line over that of lines anywhere (median absolute deviation): texture counts as noise.</summary>
    private static double Best(float[] ridge, int columns, int rows, int width)
    {
        List<float> sums = [];
        int half = columns / 2;
        int steepest = (int)(SteepestSlope * 2 * half);
        double best = 0;
        for (int rise = -steepest; rise <= steepest; rise++)
        {
            int[] shift = [.. Enumerable.Range(0, columns).Select(c => (int)Math.Round(rise * (c - half) / (double)half))];
            for (int r = Math.Abs(rise) + 3; r < width - Math.Abs(rise) - 3; r++)
            {
                double sum = 0;
                for (int c = 0; c < columns; c++)
                    sum += ridge[(c * rows) + r + shift[c]];
                sum = Math.Abs(sum);
                best = Math.Max(best, sum);
                if (r % NoiseEvery == 0)
                    sums.Add((float)sum);
            }
        }

        if (sums.Count < 100)
            return 0;
        sums.Sort();
        return best / (1.4826 * Math.Max(0.3 * Math.Sqrt(columns), sums[sums.Count / 2]));
    }
}
