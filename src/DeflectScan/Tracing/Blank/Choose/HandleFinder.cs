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
    private const double Reach = 4; // blank's half widths that are looked at to either side
    private static readonly double[] Thicker = [1.5, 1.8, 2.2, 2.7, 3.3];

    /// <summary>Share, 0 to 1, of the stretch beyond the butt end that is clearly thicker than the bar.</summary>
    public static double Share(UprightPhoto photo, RodPlane plane, TracedBar bar, double mmPerPx, double blurPx, UnsharpMask? sharpening)
    {
        double radius = bar.Radius(0);
        TracedBar before = bar.Reversed().Extended(FarMm + 10, 200);
        double[] stations = [.. Enumerable.Range(0, Profiles).Select(i => bar.Length + NearMm + ((FarMm - NearMm) * i / (Profiles - 1)))];
        ProfileBand band = ProfileBand.Sample(photo.Bgr, plane, before, stations, ((Reach + 0.4) * radius) + (6 * mmPerPx), mmPerPx, sharpening);
        EdgeFinder finder = new(band, blurPx);
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

        return seen < Profiles / 2 ? 0 : (double)thick / seen;
    }
}
