namespace DeflectScan.Layout.Suggesting;

/// <summary>Which guide goes to which of a plan's stations, and how high its ring then stands.</summary>
internal static class Arrangement
{
    /// <summary>
    /// The plan's stations given to the free guides in order so that they travel least in total; a station left over is the extra guide's.
    /// A moved guide keeps its own ring's height; an extra one takes that of <see cref="AddedRing"/>.
    /// </summary>
    /// <param name="shape">The blank.</param>
    /// <param name="rings">The layout as measured, from the reel to the tip-top.</param>
    /// <param name="side">Side of the bend that the guides stand on.</param>
    /// <param name="lastHeld">Index of the last held guide.</param>
    /// <param name="stationsMm">The plan's stations from the reel to the tip: as many as there are free guides, or more.</param>
    public static IReadOnlyList<SuggestedRing> Place(
        BlankShape shape, IReadOnlyList<RingPoint> rings, GuideSide side, int lastHeld, IReadOnlyList<double> stationsMm)
    {
        int free = rings.Count - 2 - lastHeld;
        int?[] owner = Owners([.. rings.Skip(lastHeld + 1).Take(free).Select(r => r.StationMm)], stationsMm);
        List<SuggestedRing> layout = [.. rings.Take(lastHeld + 1).Select((r, i) => new SuggestedRing(i, r))];
        RingPoint Moved(int station, int guide) => RingPoint.At(shape, stationsMm[station], rings[lastHeld + 1 + guide].DistanceMm, side);
        RingPoint[] standing = [.. rings.Take(lastHeld + 1), .. owner.Select((o, i) => (o, i)).Where(p => p.o is not null).Select(p => Moved(p.i, p.o!.Value))];
        for (int i = 0; i < stationsMm.Count; i++)
        {
            layout.Add(owner[i] is { } guide
                ? new SuggestedRing(lastHeld + 1 + guide, Moved(i, guide))
                : new SuggestedRing(null, RingPoint.At(shape, stationsMm[i], AddedRing.DistanceMm(standing, rings[^1], stationsMm[i]), side)));
        }

        layout.Add(new SuggestedRing(rings.Count - 1, rings[^1]));
        return layout;
    }

    /// <summary>For each planned station the free guide that goes there, or null; in order, with the least total travel.</summary>
    internal static int?[] Owners(double[] guides, IReadOnlyList<double> stations)
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
