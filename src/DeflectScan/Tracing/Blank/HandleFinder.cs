using DeflectScan.Calibration;
using DeflectScan.Geometry;
using DeflectScan.Photos;

namespace DeflectScan.Tracing.Blank;

/// <summary>Looks beyond a bar's butt end for the handle: a bar on the same line, at least half as thick again.</summary>
internal static class HandleFinder
{
    private const double NearMm = 20; // past the winding check
    private const double FarMm = 110;
    private static readonly double[] Thicker = [1.5, 1.8, 2.2, 2.7, 3.3];

    /// <summary>Share, 0 to 1, of the profiles beyond the butt (the curve's start) that show a thicker bar rather than the same one.</summary>
    public static double Share(UprightPhoto photo, RodPlane plane, TracedBar bar, double mmPerPx, double blurPx)
    {
        double radius = bar.Radius(0);
        TracedBar before = bar.Reversed().Extended(FarMm + 10, 200);
        double[] stations = [.. Enumerable.Range(0, 18).Select(i => bar.Length + NearMm + ((FarMm - NearMm) * i / 17))];
        ProfileBand band = ProfileBand.Sample(photo.Bgr, plane, before, stations, (3.6 * radius) + (6 * mmPerPx), mmPerPx);
        EdgeFinder finder = new(band, blurPx);
        int seen = 0;
        int thick = 0;
        for (int i = 0; i < stations.Length; i++)
        {
            if (!band.Seen[i])
                continue;
            seen++;
            finder.Look(i);
            double same = 0;
            double thicker = 0;
            for (double shift = -0.4; shift <= 0.41; shift += 0.2)
            {
                same = Math.Max(same, finder.Contrast(shift * radius, radius));
                foreach (double k in Thicker)
                    thicker = Math.Max(thicker, finder.Contrast(shift * radius, k * radius));
            }

            if (thicker > 0.02 && thicker > 1.3 * same)
                thick++;
        }

        return seen == 0 ? 0 : (double)thick / seen;
    }
}
