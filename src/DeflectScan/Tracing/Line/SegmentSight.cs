using DeflectScan.Calibration;
using DeflectScan.Geometry;

namespace DeflectScan.Tracing.Line;

/// <summary>What the photo says about one window of a straight segment.</summary>
/// <param name="Fraction">Place along the segment, 0 to 1.</param>
/// <param name="OffsetMm">How far the line lies from the segment, along the segment's left normal.</param>
/// <param name="SdMm">Standard deviation from the scatter of the window's columns.</param>
/// <param name="Evidence">Signal-to-noise of the line's contrast in the window: below about 2 nothing was seen.</param>
internal readonly record struct LineWindow(double Fraction, double OffsetMm, double SdMm, double Evidence);

/// <summary>
/// Measures a straight segment on the photo itself: at every pixel along it the profile across it is compared with a thin symmetric line on
/// a linear background. One scoring step (Fisher): the profile times the line's derivative, freed of constant and slope, over the
/// expected response to a shift. The contrast expected comes from the line's colour and the background beside it.
/// </summary>
internal sealed class SegmentSight(PhotoSampler photo, RodPlane plane, LineColour colour, BlankAxis axis)
{
    private const int HalfSteps = 7; // half px steps: 3.5 px to each side
    private const int Steps = (2 * HalfSteps) + 1;
    private const int NearCheck = 12;
    private const double WindowPx = 14;

    /// <summary>What a wrap may add to the blank's radius, mm.</summary>
    private const double WrapMm = 0.6;

    private static readonly ProfileFilter Luma = new(0.75, HalfSteps, 1.4, 6);
    private static readonly ProfileFilter Colour = new(1.25, HalfSteps, 2.6, 8);

    /// <summary>Windows along a segment from a to b (rod-plane mm), leaving out the ends.</summary>
    public List<LineWindow> Measure(Vec2 a, Vec2 b, double skipStartMm, double skipEndMm)
    {
        double length = a.DistanceTo(b);
        Vec2 along = (b - a).Normalized();
        Vec2 normal = along.Perpendicular;
        double pxMm = plane.MmPerPx(Vec2.Lerp(a, b, 0.5));
        int columns = (int)((length - skipStartMm - skipEndMm) / pxMm);
        if (columns < 6)
            return [];
        double[] shift = new double[BandStrip.Channels * columns];
        double[] thin = new double[BandStrip.Channels * columns];
        double[] expected = new double[BandStrip.Channels * columns];
        bool[] inside = new bool[columns];
        bool clear = true;
        double[] profile = new double[BandStrip.Channels * Steps];
        for (int k = 0; k < columns; k++)
        {
            Vec2 at = a + (along * (skipStartMm + ((k + 0.5) * pxMm)));
            if (k % NearCheck == 0)
                clear = IsClear(at + (along * (pxMm * NearCheck / 2)), pxMm);
            inside[k] = clear && Sample(at, normal * (pxMm / 2), profile);
            if (!inside[k])
                continue;
            for (int c = 0; c < BandStrip.Channels; c++)
            {
                ProfileFilter filter = c == 0 ? Luma : Colour;
                ReadOnlySpan<double> values = profile.AsSpan(c * Steps, Steps);
                shift[(c * columns) + k] = filter.Shift(values);
                thin[(c * columns) + k] = filter.Peak(values);
                expected[(c * columns) + k] = colour.Contrast(c, 0.5 * (values[0] + values[^1])) / filter.PeakOfResponse;
            }
        }

        return Windows(shift, thin, expected, inside, columns, length, skipStartMm, pxMm);
    }

    private static List<LineWindow> Windows(double[] shift, double[] thin, double[] expected, bool[] inside, int columns, double length, double skipStartMm, double pxMm)
    {
        double[] sd = [.. Enumerable.Range(0, BandStrip.Channels).Select(c => Spread(shift.AsSpan(c * columns, columns), inside))];
        double[] thinSd = [.. Enumerable.Range(0, BandStrip.Channels).Select(c => Spread(thin.AsSpan(c * columns, columns), inside))];
        int windows = Math.Max(1, (int)Math.Round(columns / WindowPx));
        List<LineWindow> found = [];
        for (int w = 0; w < windows; w++)
        {
            int from = w * columns / windows;
            int to = (w + 1) * columns / windows;
            double pull = 0;
            double information = 0;
            double seen = 0;
            double could = 0;
            for (int k = from; k < to; k++)
            {
                if (!inside[k])
                    continue;
                for (int c = 0; c < BandStrip.Channels; c++)
                {
                    int i = (c * columns) + k;
                    double centred = shift[i];
                    double slope = expected[i] * (c == 0 ? Luma : Colour).ShiftGain;
                    if (Math.Abs(centred) > (4 * sd[c]) + Math.Abs(slope))
                        continue;
                    double weight = 1 / ((sd[c] * sd[c]) + (0.02 * expected[i] * expected[i]));
                    pull += weight * slope * centred;
                    information += weight * slope * slope;
                    double thinWeight = 1 / ((thinSd[c] * thinSd[c]) + (0.05 * expected[i] * expected[i]));
                    seen += thinWeight * expected[i] * Math.Clamp(thin[i], -2 * Math.Abs(expected[i]), 2 * Math.Abs(expected[i]));
                    could += thinWeight * expected[i] * expected[i];
                }
            }

            if (information <= 0)
                continue;
            double fraction = (skipStartMm + ((from + to) / 2.0 * pxMm)) / length;
            found.Add(new LineWindow(fraction, pull / information * pxMm, pxMm / Math.Sqrt(information), seen / Math.Sqrt(could)));
        }

        return found;
    }

    private static double Spread(ReadOnlySpan<double> values, bool[] inside)
    {
        List<double> kept = [];
        for (int i = 0; i < values.Length; i++)
        {
            if (inside[i])
                kept.Add(values[i]);
        }

        if (kept.Count == 0)
            return 1;
        kept.Sort();
        double median = kept[kept.Count / 2];
        for (int i = 0; i < kept.Count; i++)
            kept[i] = Math.Abs(kept[i] - median);
        kept.Sort();
        return Math.Max(0.5, kept[kept.Count / 2] / 0.6745);
    }

    /// <summary>Whether the profile there is free of the blank and its wraps.</summary>
    private bool IsClear(Vec2 atMm, double pxMm)
    {
        (double s, double offset) = axis.Curve.Nearest(atMm);
        return s < 0 || Math.Abs(offset) > axis.RadiusMm(s) + WrapMm + (pxMm * HalfSteps / 2);
    }

    private bool Sample(Vec2 atMm, Vec2 halfPxMm, double[] profile)
    {
        // Over 8 px the photo is as good as affine: two ends exactly, the rest between.
        Vec2 first = plane.ToPhoto(atMm - (halfPxMm * HalfSteps));
        Vec2 last = plane.ToPhoto(atMm + (halfPxMm * HalfSteps));
        if (!photo.Contains(first, 3) || !photo.Contains(last, 3))
            return false;
        for (int i = 0; i < Steps; i++)
        {
            (double luma, double redGreen, double blueYellow) = photo.At(Vec2.Lerp(first, last, i / (Steps - 1.0)));
            profile[i] = luma;
            profile[Steps + i] = redGreen;
            profile[(2 * Steps) + i] = blueYellow;
        }

        return true;
    }
}
