using DeflectScan.Geometry;
using OpenCvSharp;

namespace DeflectScan.Calibration.Cards;

/// <summary>Measures one card's inner corners: from its markers to a first map, coarse corners on a blurred cut-out, then the full picture.</summary>
internal static class CardMeasurer
{
    private const double BlurSquares = 0.05;

    /// <summary>The card, or null when too few of its corners can be measured.</summary>
    public static CardSighting? Measure(Mat grey, char letter, IReadOnlyList<SeenMarker> markers, CardOptions options)
    {
        if (MarkerGroups.Map(markers) is not { } map)
            return null;
        double squarePx = SquarePx(map);
        if (!(squarePx > 3) || CutOut(grey, map, squarePx) is not { } box)
            return null;
        using Mat near = new(grey, box);
        using Mat blurred = new();
        double sigma = BlurSquares * squarePx;
        if (sigma > 0.8)
            Cv2.GaussianBlur(near, blurred, default, sigma);
        else
            near.CopyTo(blurred);

        Vec2 offset = new(box.X, box.Y);
        Dictionary<int, Vec2> corners = Spread(blurred, offset, markers, map, squarePx, options);
        for (int round = 0; round < 2; round++)
        {
            if (corners.Count < options.FewestCorners || Fit(corners) is not { } better)
                return null;
            corners = Refine(near, offset, better, squarePx, options);
        }

        corners = WithoutOutliers(corners, squarePx, options);
        return corners.Count < options.FewestCorners || Collinear(corners.Keys)
            ? null
            : new CardSighting(letter, markers.Count, squarePx, [.. corners.OrderBy(c => c.Key).Select(c => new CardCorner(c.Key, c.Value))]);
    }

    /// <summary>Coarse corners, outward from the markers: a map is trusted two squares beyond what it was fitted to.</summary>
    private static Dictionary<int, Vec2> Spread(Mat blurred, Vec2 offset, IReadOnlyList<SeenMarker> markers, PlaneMap map, double squarePx, CardOptions options)
    {
        Dictionary<int, Vec2> found = [];
        List<Vec2> anchorsMm = [.. markers.SelectMany(m => ScaleCard.MarkerCornersMm(m.Id % ScaleCard.MarkersPerCard))];
        List<Vec2> anchorsPx = [.. markers.SelectMany(m => m.CornersPx)];
        for (int round = 0; round < 5; round++)
        {
            int before = found.Count;
            for (int i = 0; i < ScaleCard.InnerCorners; i++)
            {
                Vec2 mm = ScaleCard.InnerCornerMm(i);
                if (found.ContainsKey(i) || anchorsMm.Min(a => a.DistanceTo(mm)) > 2 * ScaleCard.SquareMm)
                    continue;
                if (CornerCheck.Measure(blurred, offset, map, i, squarePx, 0.25 * squarePx, options) is { } px)
                    found[i] = px;
            }

            if (found.Count == before)
                break;
            List<Vec2> mmNow = [.. found.Keys.Select(ScaleCard.InnerCornerMm), .. found.Count < 10 ? anchorsMm : []];
            List<Vec2> pxNow = [.. found.Values, .. found.Count < 10 ? anchorsPx : []];
            if (PlaneMap.Fit(mmNow, pxNow) is { } wider)
                map = wider;
            anchorsMm.AddRange(found.Keys.Select(ScaleCard.InnerCornerMm));
            anchorsPx.AddRange(found.Values);
        }

        return WithoutOutliers(found, squarePx, options);
    }

    private static Dictionary<int, Vec2> Refine(Mat near, Vec2 offset, PlaneMap map, double squarePx, CardOptions options)
    {
        Dictionary<int, Vec2> found = [];
        for (int i = 0; i < ScaleCard.InnerCorners; i++)
        {
            if (CornerCheck.Measure(near, offset, map, i, squarePx, Math.Max(1.2, 0.06 * squarePx), options) is { } px)
                found[i] = px;
        }

        return found;
    }

    /// <summary>Leaves out, worst first, the corners that the others' map does not put there.</summary>
    private static Dictionary<int, Vec2> WithoutOutliers(Dictionary<int, Vec2> corners, double squarePx, CardOptions options)
    {
        double limit = Math.Max(1, options.LargestOffsetSquares * squarePx);
        Dictionary<int, Vec2> kept = new(corners);
        while (kept.Count >= options.FewestCorners && Fit(kept) is { } map)
        {
            (int worst, double off) = kept.Select(c => (c.Key, map.Map(ScaleCard.InnerCornerMm(c.Key)).DistanceTo(c.Value))).MaxBy(c => c.Item2);
            if (off <= limit)
                break;
            kept.Remove(worst);
        }

        return kept;
    }

    private static PlaneMap? Fit(Dictionary<int, Vec2> corners) =>
        Collinear(corners.Keys) ? null : PlaneMap.Fit([.. corners.Keys.Select(ScaleCard.InnerCornerMm)], [.. corners.Values]);

    /// <summary>Whether fewer than two rows or two columns are represented: such corners fix no plane.</summary>
    private static bool Collinear(IEnumerable<int> indices)
    {
        int[] all = [.. indices];
        return all.Select(i => i / ScaleCard.InnerColumns).Distinct().Count() < 2 || all.Select(i => i % ScaleCard.InnerColumns).Distinct().Count() < 2;
    }

    private static double SquarePx(PlaneMap map)
    {
        Vec2[] p = [.. ScaleCard.PatternOutlineMm.Select(map.Map)];
        double area = Math.Abs((p[2] - p[0]).Cross(p[3] - p[1])) / 2;
        return Math.Sqrt(area / (ScaleCard.Columns * ScaleCard.Rows));
    }

    private static Rect? CutOut(Mat grey, PlaneMap map, double squarePx)
    {
        Vec2[] p = [.. ScaleCard.PatternOutlineMm.Select(map.Map)];
        if (!p.All(v => double.IsFinite(v.X) && double.IsFinite(v.Y)))
            return null;
        double margin = squarePx;
        int x0 = (int)Math.Clamp(p.Min(v => v.X) - margin, 0, grey.Width);
        int y0 = (int)Math.Clamp(p.Min(v => v.Y) - margin, 0, grey.Height);
        int x1 = (int)Math.Clamp(p.Max(v => v.X) + margin, 0, grey.Width);
        int y1 = (int)Math.Clamp(p.Max(v => v.Y) + margin, 0, grey.Height);
        return x1 - x0 < 16 || y1 - y0 < 16 ? null : new Rect(x0, y0, x1 - x0, y1 - y0);
    }
}
