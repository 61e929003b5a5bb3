namespace DeflectScan.Tracing.Line;

/// <summary>
/// The contrast that the line shows on a background, per channel: a line that covers the share a of a pixel changes a background b
/// by a (colour - b). Learnt from the places where the line is plain; it then tells how the line must look where it is not.
/// </summary>
internal sealed class LineColour
{
    // Share of a pixel that a line of 0.2 to 0.4 mm covers at its middle after blur, at 0.5 mm a pixel: common, not measured; only a weak pull.
    private const double UsualShare = 0.3;

    private readonly double[] _colourTimesShare = new double[BandStrip.Channels];
    private readonly double[] _share = new double[BandStrip.Channels];

    public double Contrast(int channel, double background) => _colourTimesShare[channel] - (_share[channel] * background);

    /// <summary>What the line itself adds to a pixel, its own light.</summary>
    public double Own(int channel) => _colourTimesShare[channel];

    /// <summary>Share of a pixel that the line covers.</summary>
    public double Share(int channel) => _share[channel];

    /// <summary>Fits the model to a path's plain blocks; null where there are too few.</summary>
    public static LineColour? Learn(ThinResponse response, BandPath path, BlockEvidence evidence, double plainScore)
    {
        List<(double[] Contrast, double[] Background)> plain = [];
        for (int i = 0; i < path.Rises.Count; i++)
        {
            int block = path.FirstBlock + i;
            if (evidence.Scores(block, path.Rises[i])[path.Levels[i]] >= plainScore)
                plain.Add(Observe(response, block * evidence.BlockColumns, evidence.BlockColumns, path.Levels[i], path.Rises[i]));
        }

        return plain.Count < 4 ? null : Fitted(plain);
    }

    /// <summary>Fits the model to contrasts and backgrounds seen along a line, a value for every channel; null where there are too few.</summary>
    public static LineColour? Learn(List<(double[] Contrast, double[] Background)> seen) => seen.Count < 4 ? null : Fitted(seen);

    private static LineColour Fitted(List<(double[] Contrast, double[] Background)> seen)
    {
        LineColour colour = new();
        for (int channel = 0; channel < BandStrip.Channels; channel++)
            colour.Fit(channel, [.. seen.Select(p => (p.Contrast[channel], p.Background[channel]))]);
        return colour;
    }

    private static (double[] Contrast, double[] Background) Observe(ThinResponse response, int column, int columns, int level, int rise)
    {
        double[] contrast = new double[BandStrip.Channels];
        double[] background = new double[BandStrip.Channels];
        List<double> c = [];
        List<double> b = [];
        for (int channel = 0; channel < BandStrip.Channels; channel++)
        {
            c.Clear();
            b.Clear();
            for (int k = 0; k < columns; k++)
            {
                int l = level + (int)Math.Round(rise * (k + 0.5) / columns);
                if (l < 0 || l >= response.Strip.Levels)
                    continue;
                c.Add(response.Thin(channel, column + k)[l]);
                b.Add(response.Background(channel, column + k, l));
            }

            c.Sort();
            b.Sort();
            contrast[channel] = c.Count == 0 ? 0 : c[c.Count / 2];
            background[channel] = b.Count == 0 ? 0 : b[b.Count / 2];
        }

        return (contrast, background);
    }

    /// <summary>contrast = c - a background by reweighted least squares, a drawn weakly to the usual share.</summary>
    private void Fit(int channel, IReadOnlyList<(double Contrast, double Background)> seen)
    {
        double[] weight = [.. seen.Select(_ => 1.0)];
        double share = UsualShare;
        double colour = 0;
        for (int pass = 0; pass < 8; pass++)
        {
            double sum = weight.Sum();
            double meanB = seen.Select((s, i) => weight[i] * s.Background).Sum() / sum;
            double meanC = seen.Select((s, i) => weight[i] * s.Contrast).Sum() / sum;
            double covariance = seen.Select((s, i) => weight[i] * (s.Background - meanB) * (s.Contrast - meanC)).Sum();
            double variance = seen.Select((s, i) => weight[i] * (s.Background - meanB) * (s.Background - meanB)).Sum();
            const double pull = 4 * 25 * 25;
            share = Math.Clamp((-covariance + (pull * UsualShare)) / (variance + pull), 0.03, 0.9);
            colour = meanC + (share * meanB);
            double[] miss = [.. seen.Select(s => Math.Abs(s.Contrast - colour + (share * s.Background)))];
            double scale = Math.Max(1, 1.5 * miss.Order().ElementAt(miss.Length / 2));
            for (int i = 0; i < weight.Length; i++)
                weight[i] = 1 / (1 + (miss[i] * miss[i] / (4 * scale * scale)));
        }

        _share[channel] = share;
        _colourTimesShare[channel] = colour;
    }
}
