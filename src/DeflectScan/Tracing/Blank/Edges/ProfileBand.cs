using DeflectScan.Calibration;
using DeflectScan.Geometry;
using DeflectScan.Photos;
using OpenCvSharp;

namespace DeflectScan.Tracing.Blank;

/// <summary>
/// Profiles of the photo across a curve, each the mean over a few pixels along it with the curve's bend taken out: the band along the
/// blank, straightened. Colours are linear light, 0 to 1, blue green red.
/// </summary>
internal sealed class ProfileBand
{
    public const int RowsPerStation = 8; // px along the curve in one mean
    private const double NeededPx = 5; // of background beside the bar
    private static readonly float[] Linear = LinearTable();

    private readonly float[] _values;

    private ProfileBand(double[] stations, int columns, double stepMm, float[] values, bool[] seen)
    {
        Stations = stations;
        Columns = columns;
        StepMm = stepMm;
        _values = values;
        Seen = seen;
    }

    /// <summary>Arc length of each profile on the curve, mm.</summary>
    public IReadOnlyList<double> Stations { get; }

    public int Columns { get; }

    /// <summary>Distance of neighbouring columns across the curve, mm: half a photo pixel.</summary>
    public double StepMm { get; }

    /// <summary>Whether what a bar's reading needs of the profile lies inside the frame.</summary>
    public IReadOnlyList<bool> Seen { get; }

    /// <summary>Offset along the curve's normal of a column, mm.</summary>
    public double Offset(double column) => (column - (Columns / 2)) * StepMm;

    public double Column(double offsetMm) => (offsetMm / StepMm) + (Columns / 2);

    /// <summary>A profile: Columns x 3 linear values.</summary>
    public ReadOnlySpan<float> Profile(int station) => _values.AsSpan(station * Columns * 3, Columns * 3);

    /// <summary>Colour of a profile at an offset, linear between columns.</summary>
    public Colour At(int station, double offsetMm)
    {
        double x = Math.Clamp(Column(offsetMm), 0, Columns - 1.001);
        int i = 3 * ((station * Columns) + (int)x);
        double f = x - (int)x;
        return new Colour(
            _values[i] + (f * (_values[i + 3] - _values[i])),
            _values[i + 1] + (f * (_values[i + 4] - _values[i + 1])),
            _values[i + 2] + (f * (_values[i + 5] - _values[i + 2])));
    }

    /// <param name="bgr">8-bit photo.</param>
    /// <param name="plane">The plane that the curve lies in.</param>
    /// <param name="bar">Its curve is followed; its radius says how much of each profile has to be inside the frame.</param>
    /// <param name="stations">Arc lengths, mm.</param>
    /// <param name="halfWidthMm">Reach of the profiles to either side.</param>
    /// <param name="mmPerPx">Scale: a station is the mean of 8 profiles this far apart.</param>
    /// <param name="sharpening">What the camera did to edges is taken off the profiles; null where that is not known.</param>
    public static ProfileBand Sample(
        Mat bgr, RodPlane plane, TracedBar bar, IReadOnlyList<double> stations, double halfWidthMm, double mmPerPx, UnsharpMask? sharpening)
    {
        double step = mmPerPx / 2;
        int half = (int)Math.Ceiling(halfWidthMm / step);
        int columns = (2 * half) + 1;
        int rows = stations.Count * RowsPerStation;
        float[] values = new float[stations.Count * columns * 3];
        bool[] seen = new bool[stations.Count];
        // In blocks of stations: a remap's maps may not have more than 32767 rows.
        int block = Math.Max(1, 16000 / RowsPerStation);
        for (int first = 0; first < stations.Count; first += block)
        {
            int count = Math.Min(block, stations.Count - first);
            using Mat map = new(count * RowsPerStation, columns, MatType.CV_32FC2);
            FillMap(map, bgr, plane, bar, stations, first, count, step, mmPerPx, seen);
            using Mat strip = new();
            Cv2.Remap(bgr, strip, map, new Mat(), InterpolationFlags.Cubic, BorderTypes.Replicate);
            Average(strip, values, first, count, columns);
        }

        if (sharpening is not null && sharpening.Amount > UnsharpMask.LeastAmount)
            TakeOff(sharpening.Undoing(0.5), values, stations.Count, columns);

        return new ProfileBand([.. stations], columns, step, values, seen);
    }

    private static unsafe void FillMap(
        Mat map, Mat bgr, RodPlane plane, TracedBar bar, IReadOnlyList<double> stations, int first, int count, double step, double mmPerPx, bool[] seen)
    {
        float* data = (float*)map.Data;
        int columns = map.Width;
        Parallel.For(0, count, i => seen[first + i] = FillStation(data + (i * (long)RowsPerStation * columns * 2), columns, bgr.Size(), plane, bar, stations[first + i], step, mmPerPx));
    }

    private static unsafe bool FillStation(float* row, int columns, Size size, RodPlane plane, TracedBar bar, double station, double step, double mmPerPx)
    {
        int half = columns / 2;
        bool inside = true;
        int needed = Math.Min(half, (int)((bar.Radius(station) + (NeededPx * mmPerPx)) / step));
        for (int r = 0; r < RowsPerStation; r++)
        {
            double s = station + ((r - ((RowsPerStation - 1) / 2.0)) * mmPerPx);
            Vec2 at = bar.Curve.Point(s);
            Vec2 across = bar.Curve.Normal(s) * step;
            for (int c = 0; c < columns; c++, row += 2)
            {
                Vec2 px = plane.ToPhoto(at + (across * (c - half)));
                row[0] = (float)px.X;
                row[1] = (float)px.Y;
                inside &= Math.Abs(c - half) > needed || (px.X >= 0 && px.Y >= 0 && px.X <= size.Width - 1 && px.Y <= size.Height - 1);
            }
        }

        return inside;
    }

    private static unsafe void Average(Mat strip, float[] values, int first, int count, int columns)
    {
        for (int i = 0; i < count; i++)
        {
            Span<float> sum = values.AsSpan((first + i) * columns * 3, columns * 3);
            for (int r = 0; r < RowsPerStation; r++)
            {
                byte* row = (byte*)strip.Ptr((i * RowsPerStation) + r);
                for (int c = 0; c < sum.Length; c++)
                    sum[c] += Linear[row[c]];
            }

            for (int c = 0; c < sum.Length; c++)
                sum[c] /= RowsPerStation;
        }
    }

    // Sharpening acted on coded values: there it is taken off. Past a profile's ends its last value goes on.
    private static void TakeOff(double[] weights, float[] values, int count, int columns) => Parallel.For(0, count, i =>
    {
        int reach = weights.Length - 1;
        Span<float> profile = values.AsSpan(i * columns * 3, columns * 3);
        float[] coded = new float[3 * (columns + (2 * reach))];
        for (int c = 0; c < columns + (2 * reach); c++)
        {
            for (int q = 0; q < 3; q++)
                coded[(3 * c) + q] = CodedLight.QuickCoded(profile[(3 * Math.Clamp(c - reach, 0, columns - 1)) + q]);
        }

        for (int c = 0; c < profile.Length; c++)
        {
            int at = c + (3 * reach);
            double sum = weights[0] * coded[at];
            for (int k = 1; k <= reach; k++)
                sum += weights[k] * (coded[at - (3 * k)] + coded[at + (3 * k)]);
            profile[c] = CodedLight.QuickLinear((float)sum);
        }
    });

    private static float[] LinearTable() => [.. Enumerable.Range(0, 256).Select(i => (float)CodedLight.Linear(i / 255.0))];
}
