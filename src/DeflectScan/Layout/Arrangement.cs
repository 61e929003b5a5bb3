namespace DeflectScan.Layout;

/// <summary>Which guide goes to which of a plan's stations, and how high its ring then stands.</summary>
internal static class Arrangement
{
    /// <summary>
    /// The plan's stations given to the free guides in order so that they travel least in total; a station left over is the extra guide's.
    /// A moved guide keeps its own ring's height. An extra one takes the height between the free guides beside it, as it would be one of their kind;
    /// beside no free guide, the height between the held guide and the tip-top by station.
    /// </summary>
    /// <param name="shape">The blank.</param>
    /// <param name="rings">The layout as measured, from the reel to the tip-top.</param>
    /// <param name="side">Side of the bend that the guides stand on.</param>
    /// <param name="lastHeld">Index of the last held guide.</param>
    /// <param name="stationsMm">The plan's stations from the reel to the tip: as many as there are free guides, or more.</param>
    /// <param name="leastMoveMm">A guide that would shift by less stays.</param>
    public static IReadOnlyList<SuggestedRing> Place(
        BlankShape shape, IReadOnlyList<RingPoint> rings, GuideSide side, int lastHeld, IReadOnlyList<double> stationsMm, double leastMoveMm)
    {
        int free = rings.Count - 2 - lastHeld;
        int?[] owner = Owners([.. rings.Skip(lastHeld + 1).Take(free).Select(r => r.StationMm)], stationsMm);
        List<SuggestedRing> layout = [.. rings.Take(lastHeld + 1).Select((r, i) => new SuggestedRing(i, r))];
        for (int i = 0; i < stationsMm.Count; i++)
        {
            if (owner[i] is not { } guide)
            {
                layout.Add(new SuggestedRing(null, RingPoint.At(shape, stationsMm[i], DistanceOfExtra(i), side)));
                continue;
            }

            RingPoint measured = rings[lastHeld + 1 + guide];
            bool stays = Math.Abs(measured.StationMm - stationsMm[i]) < leastMoveMm;
            layout.Add(new SuggestedRing(lastHeld + 1 + guide, stays ? measured : RingPoint.At(shape, stationsMm[i], measured.DistanceMm, side)));
        }

        layout.Add(new SuggestedRing(rings.Count - 1, rings[^1]));
        return layout;

        double DistanceOfExtra(int at)
        {
            int? before = owner.Take(at).LastOrDefault(o => o is not null);
            int? after = owner.Skip(at + 1).FirstOrDefault(o => o is not null);
            if ((before ?? after) is { } one && (after ?? before) is { } other)
                return (rings[lastHeld + 1 + one].DistanceMm + rings[lastHeld + 1 + other].DistanceMm) / 2;
            (RingPoint held, RingPoint tip) = (rings[lastHeld], rings[^1]);
            double t = (stationsMm[at] - tip.StationMm) / (held.StationMm - tip.StationMm);
            return tip.DistanceMm + (t * (held.DistanceMm - tip.DistanceMm));
        }
    }

    /// <summary>For each planned station the free guide that goes there, or null; in order, with the least total travel.</summary>
    private static int?[] Owners(double[] guides, IReadOnlyList<double> stations)
    {
        // cost[g, s]: least travel of the first g guides over the first s stations.
        double[,] cost = new double[guides.Length + 1, stations.Count + 1];
        for (int g = 1; g <= guides.Length; g++)
        {
            for (int s = 0; s <= stations.Count; s++)
            {
                double left = s > g - 1 && s > 0 ? cost[g, s - 1] : double.PositiveInfinity;
                double taken = s >= g ? cost[g - 1, s - 1] + Math.Abs(guides[g - 1] - stations[s - 1]) : double.PositiveInfinity;
                cost[g, s] = Math.Min(left, taken);
            }
        }

        int?[] owner = new int?[stations.Count];
        int guide = guides.Length;
        for (int s = stations.Count; s > 0 && guide > 0; s--)
        {
            if (cost[guide, s] < cost[guide, s - 1])
                owner[s - 1] = --guide;
        }

        return owner;
    }
}
