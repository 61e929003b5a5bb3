using DeflectScan.Geometry;

namespace DeflectScan.Calibration.Cards;

/// <summary>Splits the markers of one letter into those that sit together on one card, so that a misread one elsewhere does no harm.</summary>
internal static class MarkerGroups
{
    /// <summary>Groups, the largest first. Two prints of the same letter give two groups.</summary>
    public static IReadOnlyList<IReadOnlyList<SeenMarker>> Split(IReadOnlyList<SeenMarker> ofOneLetter)
    {
        List<IReadOnlyList<SeenMarker>> groups = [];
        List<SeenMarker> left = [.. ofOneLetter];
        while (left.Count > 0)
        {
            List<SeenMarker> best = [];
            foreach (SeenMarker seed in left)
            {
                List<SeenMarker> group = Grow(seed, left);
                if (group.Count > best.Count)
                    best = group;
            }

            if (best.Count == 0)
                break;
            groups.Add(best);
            left.RemoveAll(best.Contains);
        }

        return groups;
    }

    /// <summary>Print frame to px by the corners of all given markers.</summary>
    public static PlaneMap? Map(IEnumerable<SeenMarker> markers)
    {
        List<Vec2> printMm = [];
        List<Vec2> px = [];
        foreach (SeenMarker m in markers)
        {
            printMm.AddRange(ScaleCard.MarkerCornersMm(m.Id % ScaleCard.MarkersPerCard));
            px.AddRange(m.CornersPx);
        }

        return PlaneMap.Fit(printMm, px);
    }

    private static List<SeenMarker> Grow(SeenMarker seed, List<SeenMarker> among)
    {
        if (Map([seed]) is not { } map)
            return [];
        Vec2 seedPx = Centre(seed.CornersPx);
        List<SeenMarker> group = [];
        foreach (SeenMarker m in among)
        {
            Vec2 expectedPx = map.Map(Centre(ScaleCard.MarkerCornersMm(m.Id % ScaleCard.MarkersPerCard)));
            double reach = (0.5 * seed.SidePx) + (0.15 * expectedPx.DistanceTo(seedPx));
            bool alike = m.SidePx > 0.6 * seed.SidePx && m.SidePx < 1.7 * seed.SidePx;
            if (alike && expectedPx.DistanceTo(Centre(m.CornersPx)) < reach && group.All(g => g.Id != m.Id))
                group.Add(m);
        }

        return group;
    }

    private static Vec2 Centre(IReadOnlyList<Vec2> corners) => (corners[0] + corners[1] + corners[2] + corners[3]) / 4;
}
