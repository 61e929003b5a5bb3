using DeflectScan.Numerics;
using DeflectScan.Tracing.Reading;
using DeflectScan.Tracing.Rings;

namespace DeflectScan.Tracing.Line;

/// <summary>The line through the rings and its colour.</summary>
/// <param name="Strip">The band of its side at full resolution.</param>
/// <param name="Path">Where it runs.</param>
/// <param name="Colour">Its colour as learnt along the way; null where too little of it was seen.</param>
/// <param name="Blocks">By stretch of 13 mm in which the line is clear of the blank: log-likelihood ratio of its being seen there.</param>
internal sealed record SeenLine(BandStrip Strip, LinePath Path, LineColour? Colour, IReadOnlyList<double> Blocks)
{
    /// <summary>Length over which a contrast is the median, mm.</summary>
    private const double BlockMm = 13;

    private const int ColourPasses = 2;

    /// <summary>The band in the line's colour; null where that is not known.</summary>
    private ChordBand? InColour { get; init; }

    /// <summary>
    /// First in any colour; then, the line's place known, with the edge learnt beside the line and in the line's colour.
    /// </summary>
    /// <param name="band">The band of the rings' side.</param>
    /// <param name="rings">From the tip-top to the one nearest to the reel.</param>
    /// <param name="insideSign">+1 where the axis' normal points to the inside of the bend.</param>
    public static SeenLine Find(LineBand band, IReadOnlyList<RingPlace> rings, double insideSign)
    {
        LinePath path = LinePlacement.Best(band.Blind, rings, insideSign);
        EdgeFree? free = null;
        LineColour? colour = null;
        ChordBand? inColour = null;
        for (int pass = 0; pass < ColourPasses; pass++)
        {
            double[] levels = path.Levels(band.Paired);
            free = EdgeFree.Compute(band.Response, band.Spread, EdgeProfile.Measure(band.Paired, levels, LineBand.WideWindowMm / 2), levels);
            colour = LineColour.Learn(Contrasts(free, levels));
            if (colour is null)
                break;
            inColour = new ChordBand(ChordMap.InColour(free, colour));
            path = LinePlacement.Best(inColour, rings, insideSign);
        }

        return new SeenLine(band.Strip, path, colour, colour is null ? [] : Evidence(free!, inColour!, path.Levels(band.Paired))) { InColour = colour is null ? null : inColour };
    }

    /// <summary>By how much a line through a ring there is likelier than one that passes it by, log-odds; 0 where the line's colour is not known.</summary>
    /// <param name="rings">The rings in use, from the tip-top to the one nearest to the reel.</param>
    /// <param name="ring">One of them, or a further one.</param>
    /// <param name="insideSign">+1 where the axis' normal points to the inside of the bend.</param>
    public double Explains(IReadOnlyList<RingPlace> rings, RingPlace ring, double insideSign)
    {
        if (InColour is null)
            return 0;
        RingPlace[] without = [.. rings.Where(r => Math.Abs(r.Station - ring.Station) > RingDecoder.ClosestMm)];
        if (without.Length < 2)
            return 0;
        double other = LinePlacement.Best(InColour, without.Length < rings.Count ? without : [.. rings.Append(ring).OrderBy(r => r.Station)], insideSign).Score;
        return without.Length < rings.Count ? Path.Score - other : other - Path.Score;
    }

    /// <summary>Medians of contrast and background of every block in which the line is clear of the blank.</summary>
    private static List<(double[] Contrast, double[] Background)> Contrasts(EdgeFree free, double[] levels)
    {
        List<(double[] Contrast, double[] Background)> seen = [];
        foreach (int[] columns in Stretches(free, levels))
        {
            double[] contrast = new double[BandStrip.Channels];
            double[] background = new double[BandStrip.Channels];
            for (int channel = 0; channel < BandStrip.Channels; channel++)
            {
                int at = channel;
                contrast[channel] = Median(columns, c => free.Contrast(at, c, (int)Math.Round(levels[c])));
                background[channel] = Median(columns, c => free.Background(at, c, (int)Math.Round(levels[c])));
            }

            seen.Add((contrast, background));
        }

        return seen;
    }

    private static double[] Evidence(EdgeFree free, ChordBand inColour, double[] levels) =>
        [.. Stretches(free, levels).Select(columns => inColour.Along(columns[0], levels.AsSpan(columns[0], columns[^1] - columns[0] + 1)))];

    /// <summary>Columns of every block in which the line is clear of the blank.</summary>
    private static IEnumerable<int[]> Stretches(EdgeFree free, double[] levels)
    {
        int block = Math.Max(4, (int)Math.Round(BlockMm / free.Strip.StepMm));
        for (int from = 0; from + block <= levels.Length; from += block)
        {
            int[] columns = [.. Enumerable.Range(from, block).Where(c => levels[c] >= free.First(c) + 1 && levels[c] < free.Strip.Last[c] - 1)];
            if (columns.Length >= block / 2)
                yield return columns;
        }
    }

    private static double Median(int[] columns, Func<int, float> at)
    {
        float[] values = [.. columns.Select(at)];
        return Quickselect.Of(values);
    }
}
