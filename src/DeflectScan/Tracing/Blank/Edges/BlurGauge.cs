namespace DeflectScan.Tracing.Blank;

/// <summary>
/// The photo's blur from a bar's own edges: the one under which step and ramp fit the edges best. The steepness alone would mislead,
/// since shade and gloss make edges steeper or softer than the blur does.
/// </summary>
internal static class BlurGauge
{
    private const int Together = 6; // profiles in one mean edge
    private const int MostEdges = 30;
    private const double MostNoise = 0.2;

    // Stretches in px of a sharp photo: what is fitted, and how far the outline may move.
    private const double OutsidePx = 4.5;
    private const double InsidePx = 2.6;
    private const double MovePx = 1;

    // Sigmas in px.
    private static readonly double[] Tried = [0.4, 0.5, 0.6, 0.7, 0.8, 0.95, 1.15, 1.4, 1.75, 2.2, 2.8, 3.6];

    /// <param name="band">Profiles.</param>
    /// <param name="readings">Edges as read, from butt to tip.</param>
    /// <param name="pxMm">A photo pixel in mm.</param>
    /// <returns>Sigma in px; that of a sharp photo where no edge could be used.</returns>
    public static double SigmaPx(ProfileBand band, IReadOnlyList<BarStation> readings, double pxMm)
    {
        // A blurred edge needs a wider look than a sharp one, so a large answer is asked again.
        double best = EdgeFinder.SharpPx;
        for (int round = 0; round < 4; round++)
        {
            double before = best;
            best = Best(Edges(band, readings, pxMm, Math.Max(1, before / EdgeFinder.SharpPx)), band.StepMm, pxMm, Math.Max(1, before / EdgeFinder.SharpPx));
            if (best < 1.2 || best <= before)
                break;
        }

        return best;
    }

    // The thicker half: there an edge is free of the other one.
    private static List<MeanEdge> Edges(ProfileBand band, IReadOnlyList<BarStation> readings, double pxMm, double wider)
    {
        List<MeanEdge> edges = [];
        int at = 0;
        int stride = Math.Max(Together, readings.Count / MostEdges);
        for (int first = 0; first + Together <= readings.Count / 2; first += stride)
        {
            List<int> stations = [];
            List<double> left = [];
            List<double> right = [];
            double radius = 0;
            for (int i = first; i < first + Together; i++)
            {
                BarStation r = readings[i];
                if (!r.BothSeen || r.Noise > MostNoise)
                    continue;
                while (band.Stations[at] < r.S)
                    at++;
                stations.Add(at);
                left.Add(r.Left);
                right.Add(r.Right);
                radius = r.WidthMm / 2;
            }

            if (stations.Count == 0)
                continue;
            edges.Add(MeanEdge.Of(band, stations, left, 1, radius, pxMm * wider));
            edges.Add(MeanEdge.Of(band, stations, right, -1, radius, pxMm * wider));
        }

        return edges;
    }

    private static double Best(List<MeanEdge> edges, double step, double pxMm, double wider)
    {
        double best = EdgeFinder.SharpPx;
        double least = double.MaxValue;
        foreach (double sigma in Tried)
        {
            // Clear steps weigh most: an edge in shade that has no step says nothing of the blur.
            double sum = 0;
            foreach (MeanEdge edge in edges)
                sum += ShadedEdge.Place(edge.Values, edge.OutsideMm, step, sigma * pxMm, pxMm * wider, MovePx * pxMm * wider).Misfit;
            if (edges.Count > 0 && sum < least)
                (best, least) = (sigma, sum);
        }

        return best;
    }

    /// <summary>The middle profile of a few stations about one outline, from outside inward.</summary>
    private sealed record MeanEdge(double[] Values, double OutsideMm)
    {
        public static MeanEdge Of(ProfileBand band, List<int> stations, List<double> at, int side, double radiusMm, double pxMm)
        {
            double step = band.StepMm;
            int outside = (int)(OutsidePx * pxMm / step);
            int count = outside + (int)(Math.Min(InsidePx * pxMm, 0.8 * radiusMm) / step) + 1;
            double[] from = [.. at.Select(a => a + (side * outside * step))];
            double[] values = MiddleProfile.Values(band, stations, from, -side * step, count);
            return new MeanEdge(MiddleProfile.Of(values, stations.Count, 3 * count), outside * step);
        }
    }
}
