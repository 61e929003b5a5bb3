using DeflectScan.Calibration;
using DeflectScan.Findings;
using DeflectScan.Numerics;
using DeflectScan.Photos;

namespace DeflectScan.Tracing.Blank;

/// <summary>
/// Where a hard lamp throws the rod on a near wall, blank and shadow part towards the tip, each with guides, line and cord. A trace may end on the shadow: then
/// another end is likely too, and what was followed is the wall's own colour, darker by one factor.
/// </summary>
internal static class ShadowDoubt
{
    // The stretch that is looked at, from the tip, mm: beyond the tip-top, and over about the last three guides' distance (chosen).
    private const double FromMm = 20;
    private const double ToMm = 150;
    private const double StepMm = 5;

    // The wall is seen so far from the bar's edge, mm: past a sharp photo's blur, before the next guide's ring.
    private static readonly double[] BesideMm = [2.5, 4, 5.5];

    // A factor nearer to 1 is no shadow that the network takes for a bar; below, hardly any light comes from elsewhere in the room (chosen).
    private const double Faintest = 0.97;
    private const double Darkest = 0.2;

    // How far the factor differs from colour to colour, as a share: 0.03 on the shadow that was taken for a blank on one of 306 own scenes; what comes from elsewhere has another colour in a real room (chosen).
    private const double Spread = 0.1;

    /// <param name="photo">Upright photo.</param>
    /// <param name="plane">The rod's plane.</param>
    /// <param name="rod">What was traced.</param>
    /// <param name="mmPerPx">Scale along it.</param>
    public static Finding? Of(UprightPhoto photo, RodPlane plane, RodCandidate rod, double mmPerPx)
    {
        if (!rod.HasOtherTip)
            return null;
        double[] stations = [.. Enumerable.Range(0, (int)((ToMm - FromMm) / StepMm)).Select(i => rod.Bar.Length - ToMm + (StepMm * i))];
        ProfileBand band = ProfileBand.Sample(photo.Bgr, plane, rod.Bar, stations, rod.Bar.Radius(stations[0]) + BesideMm[^1] + mmPerPx, mmPerPx, sharpening: null);
        int[] seen = [.. Enumerable.Range(0, stations.Length).Where(i => band.Seen[i])];
        if (seen.Length < stations.Length / 2)
            return null;
        double[] factors = [.. new Func<Colour, double>[] { c => c.B, c => c.G, c => c.R }.Select(of => OrderStatistics.Middle(seen.Select(i => Factor(band, i, rod.Bar.Radius(stations[i]), of))))];
        bool isShadow = factors.Min() > Darkest && factors.Max() < Faintest && factors.Max() - factors.Min() < Spread * factors.Average();
        return !isShadow ? null : Finding.Review(
            FindingCode.RodNotFound, "The traced tip could be the rod's shadow on the wall: see that it is the rod's own, and mark the tip if it is not, or take the light away from that wall.") with { Places = [FindingPlace.At(0)] };
    }

    // How much darker the bar's middle is than the wall beside it, in one colour: the middle of three places a side.
    private static double Factor(ProfileBand band, int station, double radiusMm, Func<Colour, double> of)
    {
        double Wall(int side) => OrderStatistics.Middle(BesideMm.Select(d => of(band.At(station, side * (radiusMm + d)))));
        return of(band.At(station, 0)) / Math.Max(1e-4, (Wall(1) + Wall(-1)) / 2);
    }
}
