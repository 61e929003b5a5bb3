using DeflectScan.Calibration;
using DeflectScan.Geometry;
using DeflectScan.Photos;

namespace DeflectScan.Tracing.Blank;

/// <summary>Looks beyond a bar's butt end for the handle: a bar on the same line, at least half as thick again.</summary>
internal static class HandleFinder
{
    private const double LeastThicker = 0.006; // contrast, linear light: a black grip on a dark wall
    private const double NearMm = 20; // past the winding check
    private const double FarMm = 110;
    private const int Profiles = 18;
    private const double Reach = 4; // blank's half widths to which outlines are looked for
    private const double LeastWider = 1.5; // outlines of a grip against the blank's own, both sides together
    private const double LeastSide = 1.25; // the same on the lesser side
    private const double MostWider = 3.6; // farther off it is something else
    private static readonly double[] Thicker = [1.5, 1.8, 2.2, 2.7, 3.3];

    /// <summary>Share, 0 to 1, of the stretch beyond the butt end that is clearly thicker than the bar.</summary>
    public static double Share(UprightPhoto photo, RodPlane plane, TracedBar bar, double mmPerPx, double blurPx, UnsharpMask? sharpening)
    {
        double radius = bar.Radius(0);
        TracedBar before = bar.Reversed().Extended(FarMm + 10, 200);
        (ProfileBand band, EdgeFinder finder) = Stretch(photo, plane, before, bar.Length + NearMm, bar.Length + FarMm, radius, mmPerPx, blurPx, sharpening);
        int seen = 0;
        int thick = 0;
        for (int i = 0; i < Profiles; i++)
        {
            if (!band.Seen[i])
                continue;
            seen++;
            finder.Look(i);
            double same = finder.Contrast(0, radius);
            double thicker = 0;
            foreach (double k in Thicker)
            {
                // The grip's middle lies on the blank's line up to a millimetre or two.
                for (double shift = -0.4; shift <= 0.4; shift += 0.2)
                    thicker = Math.Max(thicker, finder.Contrast(shift * radius, k * radius));
            }

            if (thicker > LeastThicker && thicker > 1.3 * same)
                thick++;
        }

        if (seen < Profiles / 2)
            return 0;
        // Where shade makes a grip brighter than the wall on one side and darker on the other, its outlines still last.
        (ProfileBand inside, EdgeFinder own) = Stretch(photo, plane, before, Math.Max(0, bar.Length - FarMm), bar.Length - NearMm, radius, mmPerPx, blurPx, sharpening);
        bool outlined = StackedEdges.Whole(inside, own, radius, Reach) is { } blank
            && StackedEdges.Whole(band, finder, radius, Reach) is { } grip
            && Math.Max(grip.Left, grip.Right) < MostWider
            && Math.Min(grip.Left / blank.Left, grip.Right / blank.Right) > LeastSide
            && grip.Left + grip.Right > LeastWider * (blank.Left + blank.Right);
        return outlined ? 1 : (double)thick / seen;
    }

    private static (ProfileBand Band, EdgeFinder Finder) Stretch(
        UprightPhoto photo, RodPlane plane, TracedBar before, double from, double to, double radius, double mmPerPx, double blurPx, UnsharpMask? sharpening)
    {
        double[] stations = [.. Enumerable.Range(0, Profiles).Select(i => from + ((to - from) * i / (Profiles - 1)))];
        ProfileBand band = ProfileBand.Sample(photo.Bgr, plane, before, stations, ((Reach + 0.4) * radius) + (6 * mmPerPx), mmPerPx, sharpening);
        return (band, new EdgeFinder(band, blurPx));
    }
}
