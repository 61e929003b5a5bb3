using DeflectScan.Numerics;

namespace DeflectScan.Calibration.Lens;

/// <summary>What would make a lens profile better, in sentences for the person who took the photos.</summary>
internal static class LensAdvice
{
    // Bars by common practice in camera calibration, no single source.
    private const int FewViews = 8;
    private const double LittleTurnDeg = 25;
    private const double LittleCoverage = 0.6;
    private const double InnerShare = 0.75;
    private const double UnsureFocal = 0.003;
    private const double LargeRmsPx = 1;
    private const double BadView = 3;
    private const double NearMm = 800;

    public static IEnumerable<string> On(LensCalibration lens, LensViews spread)
    {
        LensProfile p = lens.Profile;
        if (lens.Views.Count < FewViews)
            yield return $"Only {lens.Views.Count} views: take ten or more.";
        if (spread.Alike > 0)
            yield return $"{spread.Alike} of {lens.Views.Count} views {(spread.Alike == 1 ? "is nearly a copy of another" : "are nearly copies of others")} and add little: turn and move the board between photos.";
        if (spread.TurnDeg < LittleTurnDeg)
            yield return $"The boards are turned by at most {spread.TurnDeg:0} degrees to each other: tilt the board by 20 to 40 degrees to every side.";
        if (spread.Coverage < LittleCoverage)
            yield return $"The boards cover {100 * spread.Coverage:0} % of the picture: take some more with the board in the parts left empty.";
        if (spread.OutermostShare < InnerShare)
            yield return "No board reaches into the picture's corners, where distortion is largest: take some there.";
        if (lens.Sd[0] > UnsureFocal * p.FocalPx)
            yield return $"The focal length is known to {200 * lens.Sd[0] / p.FocalPx:0.0} % (95 %) only: tilt the board more, and fill the picture with it.";
        if (p.RmsPx > LargeRmsPx)
            yield return $"The corners lie {p.RmsPx:0.0} px (rms) off where the lens puts them: use a flat, stiff board and sharp photos of one focus and zoom.";
        double usual = OrderStatistics.Middle(lens.Views.Select(v => v.RmsPx));
        foreach (ViewReport view in lens.Views.Where(v => v.RmsPx > BadView * usual))
            yield return $"{view.Photo} fits badly ({view.RmsPx:0.0} px, the others {usual:0.0} px): look whether the board is bent, blurred or partly hidden there.";
        if (p.BoardDistanceMm < NearMm)
            yield return $"The boards stood about {p.BoardDistanceMm / 1000:0.0} m away: focusing so near changes the focal length a little; a large board at the rod's distance is better.";
    }
}
