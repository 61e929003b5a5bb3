using DeflectScan.Calibration;
using DeflectScan.Geometry;
using DeflectScan.Numerics;
using DeflectScan.Photos;
using OpenCvSharp;

namespace DeflectScan.Tracing.Handle;

/// <summary>
/// Finds the butt end of the handle, so that a taped blank length can check the scale. The handle goes on straight from where the bare blank
/// enters it; along that line the picture differs from both flanks (grip, reel seat and clamp alike) until the butt, and no longer beyond it.
/// </summary>
public static class ButtFinder
{
    /// <summary>Longest handle looked for, in mm: longer than any two-handed surf handle (common practice, no source).</summary>
    private const int ReachMm = 1100;

    /// <summary>Half width in mm of the middle of the handle that is compared: inside the thinnest grip.</summary>
    private const int CoreMm = 5;

    /// <summary>The flanks in mm from the middle: outside the thickest grip.</summary>
    private const int FlankFromMm = 26, FlankToMm = 38;

    private const int Rows = 1 + (2 * FlankToMm);

    /// <summary>So much of nothing in mm ends the handle.</summary>
    private const int EmptyMm = 25;

    /// <summary>Least difference in grey levels of any channel between handle and flank.</summary>
    private const double LeastContrast = 14;

    /// <summary>A clamp is at most so wide, in mm (common practice, no source).</summary>
    private const int ClampMm = 150;

    /// <summary>Station of the handle's end from the tip in mm along the blank; null when it is not seen in the frame.</summary>
    /// <param name="photo">The photo.</param>
    /// <param name="plane">Its rod plane.</param>
    /// <param name="axis">The traced blank, up to the handle.</param>
    public static double? EndStationMm(UprightPhoto photo, RodPlane plane, BlankAxis axis)
    {
        double start = axis.HandleStationMm;
        Vec3b[] strip = Straightened(photo, plane, axis, start);
        List<double[]> walls = [];
        double? lastSeen = null;
        int empty = 0;
        int covered = 0;
        int doubtful = 0;
        for (int i = 0; i < ReachMm && empty < EmptyMm && covered < ClampMm; i++)
        {
            if (ColourAt(strip, i) is not { } colour)
                return null;
            bool wall = IsWall(colour, walls);
            if (colour.StandsOut && (wall || covered == 0))
            {
                (empty, covered, doubtful) = (0, 0, 0);
                lastSeen = start + i;
                walls.Add(colour.Left);
                walls.Add(colour.Right);
            }
            else if (wall)
            {
                empty++;
            }
            else
            {
                // A clamp may cover the flanks as well as the handle: what stands out of the wall after it decides.
                covered++;
                doubtful += colour.StandsOut ? 1 : 0;
            }
        }

        bool ends = empty >= EmptyMm || covered >= ClampMm;
        return ends && doubtful < EmptyMm ? lastSeen : null;
    }

    /// <summary>Whether the flanks at a station are what stood beside the handle so far.</summary>
    private static bool IsWall(StripColour colour, List<double[]> walls)
    {
        if (walls.Count == 0)
            return true;
        double[] usual = [.. Enumerable.Range(0, 3).Select(c => OrderStatistics.Middle(walls.Select(w => w[c])))];
        return Math.Max(Difference(colour.Left, usual), Difference(colour.Right, usual)) < 2 * LeastContrast;
    }

    /// <summary>The band along the straight handle, row by row: one column a mm from the grip's start, one row a mm across; black outside the frame.</summary>
    private static Vec3b[] Straightened(UprightPhoto photo, RodPlane plane, BlankAxis axis, double start)
    {
        Vec2 origin = axis.Curve.Point(start);
        Vec2 along = axis.Curve.Tangent(start);
        Vec2f[] map = new Vec2f[Rows * ReachMm];
        for (int i = 0; i < map.Length; i++)
        {
            Vec2 px = plane.ToPhoto(origin + (along * (i % ReachMm)) + (along.Perpendicular * ((i / ReachMm) - FlankToMm)));
            bool inFrame = px.X >= 0 && px.Y >= 0 && px.X <= photo.Info.WidthPx - 1 && px.Y <= photo.Info.HeightPx - 1;
            map[i] = inFrame ? new Vec2f((float)px.X, (float)px.Y) : new Vec2f(-10, -10);
        }

        using Mat where = Mat.FromPixelData(Rows, ReachMm, MatType.CV_32FC2, map);
        using Mat strip = new();
        using Mat none = new();
        Cv2.Remap(photo.Bgr, strip, where, none, InterpolationFlags.Linear, BorderTypes.Constant, Scalar.Black);
        strip.GetArray(out Vec3b[] pixels);
        return pixels;
    }

    /// <summary>The middle's and the flanks' colours at one station; null where the middle lies outside the frame.</summary>
    private static StripColour? ColourAt(Vec3b[] strip, int column)
    {
        double[] core = MedianColour(strip, FlankToMm - CoreMm, FlankToMm + CoreMm, column);
        if (core.Sum() == 0)
            return null;
        return new StripColour(
            core, MedianColour(strip, 0, FlankToMm - FlankFromMm, column), MedianColour(strip, FlankToMm + FlankFromMm, Rows - 1, column));
    }

    private static double Difference(double[] a, double[] b) => Enumerable.Range(0, 3).Max(c => Math.Abs(a[c] - b[c]));

    private static double[] MedianColour(Vec3b[] strip, int fromRow, int toRow, int column)
    {
        List<double>[] channels = [[], [], []];
        for (int row = fromRow; row <= toRow; row++)
        {
            for (int col = Math.Max(0, column - 2); col <= Math.Min(ReachMm - 1, column + 2); col++)
            {
                Vec3b p = strip[(row * ReachMm) + col];
                channels[0].Add(p.Item0);
                channels[1].Add(p.Item1);
                channels[2].Add(p.Item2);
            }
        }

        return [.. channels.Select(c => OrderStatistics.Middle(c))];
    }

    /// <summary>Median colours, 8-bit blue green red, of the strip's middle and of both flanks.</summary>
    private sealed record StripColour(double[] Core, double[] Left, double[] Right)
    {
        /// <summary>Whether the middle differs from both flanks.</summary>
        public bool StandsOut => Math.Min(Difference(Core, Left), Difference(Core, Right)) > LeastContrast;
    }
}
