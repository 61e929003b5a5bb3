using DeflectScan.Geometry;
using DeflectScan.Numerics;
using OpenCvSharp;
using OpenCvSharp.Aruco;

namespace DeflectScan.Calibration.Cards;

/// <summary>A marker read in the photo: which one, and its four corners in px from its top-left, clockwise as printed.</summary>
internal readonly record struct SeenMarker(int Id, IReadOnlyList<Vec2> CornersPx)
{
    public double SidePx =>
        (CornersPx[0].DistanceTo(CornersPx[1]) + CornersPx[1].DistanceTo(CornersPx[2])
            + CornersPx[2].DistanceTo(CornersPx[3]) + CornersPx[3].DistanceTo(CornersPx[0])) / 4;
}

/// <summary>
/// Reads the cards' markers (OpenCV's ArUco detector) on reduced pictures, coarse to fine until they are large enough to be sure of.
/// Their corners say which card is where, no more: they lean inwards by most of a pixel.
/// </summary>
internal static class MarkerSearch
{
    private const double SmallestMarkerPx = 9;

    public static IReadOnlyList<SeenMarker> Find(Mat grey, CardOptions options)
    {
        double pixels = (double)grey.Width * grey.Height;
        IReadOnlyList<SeenMarker> found = [];
        foreach (double reduce in Reductions(pixels, options))
        {
            IReadOnlyList<SeenMarker> seen = FindReduced(grey, reduce);
            if (seen.Count >= found.Count)
                found = seen;
            if (found.Count > 0 && OrderStatistics.Middle(found.Select(m => m.SidePx)) / reduce >= options.SureMarkerPx)
                break;
        }

        return found;
    }

    private static IEnumerable<double> Reductions(double pixels, CardOptions options)
    {
        double finest = Math.Max(1, Math.Sqrt(pixels / options.LastSearchPixels));
        for (double target = options.FirstSearchPixels; ; target *= options.FinerBy)
        {
            double reduce = Math.Max(finest, Math.Sqrt(pixels / target));
            bool nearlyFinest = reduce < finest * 1.25;
            yield return nearlyFinest ? finest : reduce;
            if (nearlyFinest)
                break;
        }

        if (pixels <= options.MagnifyUpToPixels)
            yield return 0.5;
    }

    /// <param name="grey">The full picture.</param>
    /// <param name="reduce">Sides are divided by this; less than 1 magnifies.</param>
    private static List<SeenMarker> FindReduced(Mat grey, double reduce)
    {
        using Mat small = new();
        Mat searched = grey;
        if (Math.Abs(reduce - 1) > 1e-9)
        {
            Size size = new((int)Math.Round(grey.Width / reduce), (int)Math.Round(grey.Height / reduce));
            Cv2.Resize(grey, small, size, 0, 0, reduce > 1 ? InterpolationFlags.Area : InterpolationFlags.Cubic);
            searched = small;
        }

        (double sx, double sy) = ((double)grey.Width / searched.Width, (double)grey.Height / searched.Height);
        int longest = Math.Max(searched.Width, searched.Height);
        using Dictionary dictionary = CvAruco.GetPredefinedDictionary(PredefinedDictionaryType.Dict4X4_100);
        using ArucoDetector detector = new(
            dictionary,
            new DetectorParameters { MinMarkerPerimeterRate = 4 * SmallestMarkerPx / longest, CornerRefinementMethod = CornerRefineMethod.None },
            new RefineParameters());
        detector.DetectMarkers(searched, out Point2f[][] corners, out int[] ids, out _);

        List<SeenMarker> seen = [];
        for (int i = 0; i < ids.Length; i++)
        {
            if (ScaleCard.Locate(ids[i]) is not null)
                seen.Add(new SeenMarker(ids[i], [.. corners[i].Select(p => new Vec2(((p.X + 0.5) * sx) - 0.5, ((p.Y + 0.5) * sy) - 0.5))]));
        }

        return [.. seen.OrderBy(m => m.Id).ThenBy(m => m.CornersPx[0].X).ThenBy(m => m.CornersPx[0].Y)];
    }
}
