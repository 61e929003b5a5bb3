using DeflectScan.Calibration;
using DeflectScan.Geometry;
using DeflectScan.Imaging;

namespace DeflectScan.Tracing.Line;

/// <summary>What the photo says about one window of a straight segment.</summary>
/// <param name="Fraction">Place along the segment, 0 to 1.</param>
/// <param name="OffsetMm">How far the line lies from the segment, along the segment's left normal.</param>
/// <param name="SdMm">Standard deviation from the scatter of the window's columns.</param>
/// <param name="Evidence">Signal-to-noise of the line's contrast in the window: below about 2 nothing was seen.</param>
/// <param name="ColourShare">How much of what tells the place is colour, 0 to 1.</param>
/// <param name="NearShare">Share of its columns, 0 to 1, so near to the blank that not to see the line there says little.</param>
internal readonly record struct LineWindow(double Fraction, double OffsetMm, double SdMm, double Evidence, double ColourShare = 0, double NearShare = 0)
{
    /// <summary>The part of the standard deviation that is the window's own.</summary>
    public double NoiseSdMm { get; init; } = SdMm;

    /// <summary>The part that a segment's windows have in common, px: a line lit from one side (standard deviation). In <see cref="SdMm"/> it stands as if it were each window's own.</summary>
    public double LitSdPx { get; init; }
}

/// <summary>
/// Measures a straight segment on the photo itself: at every pixel along it the profile across it is compared with a thin symmetric line on
/// a linear background. One scoring step (Fisher): contrast times shift as the profile shows it, over the contrast that the line's
/// colour and the background beside it tell. Beside the blank its edge's own profile is taken off first.
/// </summary>
internal sealed class SegmentSight(PhotoSampler photo, RodPlane plane, LineColour colour, BlankAxis axis, double side, EdgeProfile edge)
{
    private const int HalfSteps = 7; // half px steps: 3.5 px to each side
    private const int Steps = (2 * HalfSteps) + 1;
    private const int MostMissing = 3;
    private const double WindowPx = 14;
    private const int Stride = 12;

    /// <summary>Nearer to the blank's edge than this a sample tells nothing: half a px and what a wrap adds to the radius, mm.</summary>
    private const double EdgePx = 0.5;
    private const double WrapMm = 0.5;

    /// <summary>Within this of the blank's edge its profile, which is taken off, is doubtful, px.</summary>
    private const double DoubtfulPx = 4.5;

    private static readonly ProfileFilter Luma = new(0.75, HalfSteps, MostMissing, 1.4, 6);
    private static readonly ProfileFilter Colour = new(1.25, HalfSteps, MostMissing, 2.6, 8);

    public double PxMm(Vec2 a, Vec2 b) => plane.MmPerPx(Vec2.Lerp(a, b, 0.5));

    /// <summary>How many rows (or columns, the fewer) of the photo a segment crosses.</summary>
    public double CrossedPx(Vec2 a, Vec2 b)
    {
        Vec2 d = plane.ToPhoto(b) - plane.ToPhoto(a);
        return Math.Min(Math.Abs(d.X), Math.Abs(d.Y));
    }

    /// <summary>Windows along a segment from a to b (rod-plane mm), leaving out the ends.</summary>
    public List<LineWindow> Measure(Vec2 a, Vec2 b, double skipStartMm, double skipEndMm)
    {
        double length = a.DistanceTo(b);
        Vec2 along = (b - a).Normalized();
        double pxMm = plane.MmPerPx(Vec2.Lerp(a, b, 0.5));
        int columns = (int)((length - skipStartMm - skipEndMm) / pxMm);
        if (columns < 6)
            return [];
        SegmentColumns seen = new(columns, BandStrip.Channels);
        double[] profile = new double[BandStrip.Channels * Steps];
        Vec2 start = a + (along * (skipStartMm + (0.5 * pxMm)));
        for (int from = 0; from < columns; from += Stride)
        {
            int to = Math.Min(columns, from + Stride);
            BlankBeside beside = Beside(start + (along * (from * pxMm)), start + (along * (to * pxMm)), along.Perpendicular, pxMm);
            for (int k = from; k < to; k++)
            {
                Vec2 at = start + (along * (k * pxMm));
                if (Sample(at, along.Perpendicular * (pxMm / 2), profile) && beside.Clear(profile, (double)(k - from) / (to - from)) is { } missing)
                    Read(seen, k, profile, missing, beside.IsNear((double)(k - from) / (to - from)));
            }
        }

        return seen.Windows(WindowPx, length, skipStartMm, pxMm, colour.Own(0) / Luma.PeakOfResponse);
    }

    private void Read(SegmentColumns seen, int column, double[] profile, int missing, bool doubtful)
    {
        seen.Doubt(column, doubtful);
        for (int c = 0; c < BandStrip.Channels; c++)
        {
            ProfileFilter filter = c == 0 ? Luma : Colour;
            ReadOnlySpan<double> values = profile.AsSpan(c * Steps, Steps);
            double background = missing switch
            {
                > 0 => values[^1],
                < 0 => values[0],
                _ => 0.5 * (values[0] + values[^1]),
            };
            seen.Set(
                c,
                column,
                new ColumnReading(
                    filter.Shift(values, missing),
                    filter.Contrast(values, missing),
                    colour.Contrast(c, background) / filter.PeakOfResponse,
                    filter.Gain(missing),
                    filter.ShiftNoise * filter.Residual(values, missing)));
        }
    }

    private BlankBeside Beside(Vec2 from, Vec2 to, Vec2 normal, double pxMm)
    {
        (double s0, double o0) = axis.Curve.Nearest(from);
        (double s1, double o1) = axis.Curve.Nearest(to, s0);
        double climb = normal.Dot(axis.Curve.Normal(s0)) * side;
        double above0 = (o0 * side) - axis.RadiusMm(s0);
        double above1 = (o1 * side) - axis.RadiusMm(s1);
        return new BlankBeside(edge, s0, s1, s0 < -2 ? 1e3 : above0, s1 < -2 ? 1e3 : above1, climb, pxMm);
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

    /// <summary>The blank beside a short piece of the segment.</summary>
    /// <param name="Edge">Its edge's profile.</param>
    /// <param name="Station0">Station at the piece's start.</param>
    /// <param name="Station1">At its end.</param>
    /// <param name="Above0">Distance of the segment from the blank's edge at the start, mm.</param>
    /// <param name="Above1">At the end.</param>
    /// <param name="Climb">By how much a mm along the segment's normal leads away from the blank.</param>
    /// <param name="PxMm">A pixel.</param>
    private readonly record struct BlankBeside(EdgeProfile Edge, double Station0, double Station1, double Above0, double Above1, double Climb, double PxMm)
    {
        public bool IsNear(double t) => Above0 + (t * (Above1 - Above0)) < DoubtfulPx * PxMm;

        /// <summary>Takes the edge off a profile; says how many samples are missing at its start (or, negative, at its end), null where too many.</summary>
        public int? Clear(double[] profile, double t)
        {
            double above = Above0 + (t * (Above1 - Above0));
            double half = PxMm / 2 * Climb;
            if (above - Math.Abs(half * HalfSteps) > 9 * PxMm)
                return 0;
            double station = Station0 + (t * (Station1 - Station0));
            int missing = 0;
            for (int i = 0; i < Steps; i++)
            {
                double distance = above + (half * (i - HalfSteps));
                if (distance < (EdgePx * PxMm) + WrapMm)
                {
                    missing++;
                    continue;
                }

                for (int c = 0; c < BandStrip.Channels; c++)
                    profile[(c * Steps) + i] -= Edge.At(c, station, distance);
            }

            return missing > MostMissing ? null : half > 0 ? missing : -missing;
        }
    }
}
