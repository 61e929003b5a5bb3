using DeflectScan.Calibration;
using DeflectScan.Geometry;
using DeflectScan.Imaging;
using OpenCvSharp;

namespace DeflectScan.Tracing.Line;

/// <summary>
/// The band along one side of the blank, straightened: columns are stations from the tip, levels are heights above the axis on that side.
/// Values are a luma and two colour differences, 0 to 255 scale, stored column after column.
/// </summary>
internal sealed class BandStrip
{
    public const int Channels = 3;

    private readonly float[][] _planes;
    private readonly Vec2[] _points;
    private readonly Vec2[] _normals;

    private BandStrip(BlankAxis axis, double side, (double Step, double Level) mm, double firstStation, double firstHeight, int columns, int levels)
    {
        Axis = axis;
        Side = side;
        StepMm = mm.Step;
        LevelMm = mm.Level;
        FirstStation = firstStation;
        FirstHeight = firstHeight;
        Columns = columns;
        Levels = levels;
        _planes = [new float[columns * levels], new float[columns * levels], new float[columns * levels]];
        _points = new Vec2[columns];
        _normals = new Vec2[columns];
        Curvatures = new double[columns];
        SurfaceLevels = new double[columns];
        First = new int[columns];
        Last = new int[columns];
    }

    public BlankAxis Axis { get; }

    /// <summary>+1: heights run along the axis' normal, -1: against it.</summary>
    public double Side { get; }

    /// <summary>Distance of two columns in mm.</summary>
    public double StepMm { get; }

    /// <summary>Distance of two levels in mm: half a pixel of the sampling.</summary>
    public double LevelMm { get; }

    /// <summary>How many columns of the sampling are the mean in one: 1 or 2.</summary>
    public int Pooled { get; private init; } = 1;

    /// <summary>A pixel of the sampling in mm.</summary>
    public double PxMm => 2 * LevelMm;

    public double FirstStation { get; }

    public double FirstHeight { get; }

    public int Columns { get; }

    public int Levels { get; }

    /// <summary>The axis' curvature towards this side at each column, 1/mm.</summary>
    public double[] Curvatures { get; }

    /// <summary>The level of each column at which the blank's surface lies.</summary>
    public double[] SurfaceLevels { get; }

    /// <summary>First level of each column that lies in the photo.</summary>
    public int[] First { get; }

    /// <summary>One beyond the last level of each column that lies in the photo; not above First where none does.</summary>
    public int[] Last { get; }

    public ReadOnlySpan<float> Column(int channel, int column) => _planes[channel].AsSpan(column * Levels, Levels);

    public double Station(double column) => FirstStation + (column * StepMm);

    public double ColumnOf(double station) => (station - FirstStation) / StepMm;

    public double Height(double level) => FirstHeight + (level * LevelMm);

    public double LevelOf(double height) => (height - FirstHeight) / LevelMm;

    /// <summary>Rod-plane point at a (fractional) column and height.</summary>
    public Vec2 PlanePoint(double column, double heightMm)
    {
        int c = Math.Clamp((int)column, 0, Columns - 2);
        double t = column - c;
        Vec2 normal = Vec2.Lerp(_normals[c], _normals[c + 1], t).Normalized();
        return Vec2.Lerp(_points[c], _points[c + 1], t) + (normal * heightMm);
    }

    /// <summary>Samples the band from the photo by bicubic interpolation.</summary>
    /// <param name="photoBgr">The photo, 8-bit.</param>
    /// <param name="plane">Maps the rod plane to the photo.</param>
    /// <param name="axis">The blank.</param>
    /// <param name="side">+1: the side of the axis' normal, -1: the other.</param>
    /// <param name="stepMm">Distance of columns.</param>
    /// <param name="stations">First and last station in mm.</param>
    /// <param name="heights">Lowest (negative: beyond the blank) and highest height in mm.</param>
    public static BandStrip Sample(Mat photoBgr, RodPlane plane, BlankAxis axis, double side, double stepMm, (double From, double To) stations, (double From, double To) heights)
    {
        int columns = (int)((stations.To - stations.From) / stepMm) + 1;
        int levels = (int)((heights.To - heights.From) / (stepMm / 2)) + 1;
        BandStrip strip = new(axis, side, (stepMm, stepMm / 2), stations.From, heights.From, columns, levels);
        for (int c = 0; c < columns; c++)
        {
            double s = strip.Station(c);
            strip._points[c] = axis.Curve.Point(s);
            strip._normals[c] = axis.Curve.Normal(s) * side;
            strip.Curvatures[c] = axis.Curve.Curvature(s) * side;
            strip.SurfaceLevels[c] = strip.LevelOf(axis.RadiusMm(s));
        }

        using Mat mapX = new(columns, levels, MatType.CV_32FC1);
        using Mat mapY = new(columns, levels, MatType.CV_32FC1);
        Parallel.For(0, columns, c => strip.MapColumn(c, plane, photoBgr.Size(), mapX.AsSpanOfRow(c), mapY.AsSpanOfRow(c)));
        using Mat sampled = new();
        Cv2.Remap(photoBgr, sampled, mapX, mapY, InterpolationFlags.Cubic, BorderTypes.Replicate);
        Parallel.For(0, columns, c => strip.Separate(c, sampled.AsSpanOfBytes(c)));
        return strip;
    }

    /// <summary>The same band with the mean of every two columns for one: all that a line needs that runs along it, at half the cost.</summary>
    public BandStrip Paired()
    {
        BandStrip half = new(Axis, Side, (2 * StepMm, LevelMm), FirstStation + (StepMm / 2), FirstHeight, Columns / 2, Levels) { Pooled = 2 * Pooled };
        Parallel.For(0, half.Columns, c =>
        {
            half._points[c] = Vec2.Lerp(_points[2 * c], _points[(2 * c) + 1], 0.5);
            half._normals[c] = Vec2.Lerp(_normals[2 * c], _normals[(2 * c) + 1], 0.5).Normalized();
            half.SurfaceLevels[c] = half.LevelOf(Axis.RadiusMm(half.Station(c)));
            half.Curvatures[c] = 0.5 * (Curvatures[2 * c] + Curvatures[(2 * c) + 1]);
            half.First[c] = Math.Max(First[2 * c], First[(2 * c) + 1]);
            half.Last[c] = Math.Min(Last[2 * c], Last[(2 * c) + 1]);
            for (int channel = 0; channel < Channels; channel++)
            {
                Span<float> mean = half._planes[channel].AsSpan(c * Levels, Levels);
                Column(channel, 2 * c).CopyTo(mean);
                ColumnSums.Add(mean, Column(channel, (2 * c) + 1));
                ColumnSums.Scale(mean, 0.5f);
            }
        });
        return half;
    }

    private void MapColumn(int c, RodPlane plane, Size size, Span<float> x, Span<float> y)
    {
        // Perspective and lens along 80 mm are a parabola to better than 0.01 px: three exact points a column.
        Vec2 p0 = plane.ToPhoto(PlanePoint(c, FirstHeight));
        Vec2 p1 = plane.ToPhoto(PlanePoint(c, Height((Levels - 1) / 2.0)));
        Vec2 p2 = plane.ToPhoto(PlanePoint(c, Height(Levels - 1)));
        Vec2 bend = p0 + p2 - (p1 * 2);
        Vec2 slope = p2 - p0;
        First[c] = Levels;
        Last[c] = 0;
        for (int l = 0; l < Levels; l++)
        {
            double t = (2.0 * l / (Levels - 1)) - 1;
            Vec2 p = p1 + (slope * (t / 2)) + (bend * (t * t / 2));
            x[l] = (float)p.X;
            y[l] = (float)p.Y;
            if (p.X < 1 || p.Y < 1 || p.X > size.Width - 2 || p.Y > size.Height - 2)
                continue;
            First[c] = Math.Min(First[c], l);
            Last[c] = l + 1;
        }
    }

    private void Separate(int c, ReadOnlySpan<byte> bgr)
    {
        int at = c * Levels;
        for (int l = 0; l < Levels; l++, at++)
        {
            float b = bgr[3 * l];
            float g = bgr[(3 * l) + 1];
            float r = bgr[(3 * l) + 2];
            _planes[0][at] = (0.25f * r) + (0.6f * g) + (0.15f * b);
            _planes[1][at] = r - g;
            _planes[2][at] = b - (0.5f * (r + g));
        }
    }
}
