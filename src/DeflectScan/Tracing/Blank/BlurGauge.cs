namespace DeflectScan.Tracing.Blank;

/// <summary>
/// The photo's blur from a bar's own edges: the one under which step and ramp fit the edges best. The steepness alone would mislead,
/// since shade and gloss make edges steeper or softer than the blur does.
/// </summary>
internal static class BlurGauge
{
    private const int MostStations = 50;

    // Sigmas in px.
    private static readonly double[] Tried = [0.4, 0.5, 0.6, 0.7, 0.8, 0.95, 1.15, 1.4, 1.75, 2.2, 2.8, 3.6];

    /// <param name="band">Profiles.</param>
    /// <param name="readings">Edges by their half levels, from butt to tip.</param>
    /// <param name="pxMm">A photo pixel in mm.</param>
    /// <returns>Sigma in px; that of a sharp photo where no edge could be used.</returns>
    public static double SigmaPx(ProfileBand band, IReadOnlyList<BarStation> readings, double pxMm)
    {
        // The thicker half: there an edge is free of the other one.
        List<(int Station, double At, int Side, double Radius)> edges = [];
        int stride = Math.Max(1, readings.Count / 2 / MostStations);
        Dictionary<double, int> index = [];
        for (int i = 0; i < band.Stations.Count; i++)
            index[band.Stations[i]] = i;
        for (int i = 0; i < readings.Count / 2; i += stride)
        {
            BarStation r = readings[i];
            if (!r.BothSeen || r.Noise > 0.2)
                continue;
            edges.Add((index[r.S], r.Left, 1, r.WidthMm / 2));
            edges.Add((index[r.S], r.Right, -1, r.WidthMm / 2));
        }

        // A blurred edge needs a wider look than a sharp one, so a large answer is asked again.
        double best = EdgeFinder.SharpPx;
        for (int round = 0; round < 4; round++)
        {
            double before = best;
            best = Best(band, edges, pxMm, Math.Max(1, before / EdgeFinder.SharpPx));
            if (best < 1.2 || best <= before)
                break;
        }

        return best;
    }

    private static double Best(ProfileBand band, List<(int Station, double At, int Side, double Radius)> edges, double pxMm, double wider)
    {
        double best = EdgeFinder.SharpPx;
        double least = double.MaxValue;
        foreach (double sigma in Tried)
        {
            // Clear steps weigh most: an edge in shade that has no step says nothing of the blur.
            ShadedEdge model = new(band, sigma * pxMm);
            double sum = 0;
            foreach ((int station, double at, int side, double radius) in edges)
                sum += model.Fit(station, at, side, radius, pxMm * wider).Misfit;
            if (edges.Count > 0 && sum < least)
                (best, least) = (sigma, sum);
        }

        return best;
    }
}
