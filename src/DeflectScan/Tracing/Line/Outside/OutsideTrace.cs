using DeflectScan.Geometry;

namespace DeflectScan.Tracing.Line.Outside;

/// <summary>The line and the rings on the outside of the bend, found together.</summary>
/// <param name="Path">The line through the rings.</param>
/// <param name="Candidates">Everything that stands on the blank there.</param>
/// <param name="Colour">The line's colour as learnt along it.</param>
internal sealed record OutsideTrace(ChordPath Path, IReadOnlyList<StandingRing> Candidates, LineColour Colour)
{
    private const double LookUpToMm = 34;

    /// <summary>What stands out so plainly is a guide, used or not.</summary>
    public const double PlainScore = 7;
    private const double ApartMm = 30;

    /// <summary>Nothing within this of the handle is a guide, mm.</summary>
    private const double HandleMm = 25;
    private const double BlockMm = 13;

    /// <summary>The line may run along the blank at one height from ring to ring, but not over so long a way, mm to each side.</summary>
    private const double WideWindowMm = 350;

    /// <summary>What looks plainly like a guide beside those that the line was found in, though it was not found there.</summary>
    /// <param name="line">The line's vertices.</param>
    /// <param name="pxMm">Size of a pixel.</param>
    public IEnumerable<StandingRing> LeftOut(IReadOnlyList<OutsideVertex> line, double pxMm)
    {
        List<StandingRing> used = [.. line.Select(v => v.Ring).OfType<StandingRing>()];
        return RingSeries.Judged(Candidates, used, pxMm)
            .Where(c => c.Station > ApartMm && c.Score >= PlainScore && used.All(r => Math.Abs(r.Station - c.Station) > ApartMm));
    }

    /// <summary>Whether a ring by itself looks plainly like a guide.</summary>
    public static bool IsPlain(StandingRing ring) => ring.Score >= PlainScore;

    /// <summary>
    /// First in any colour, with what the blank's edge does to the picture taken off as far as it can be told from a line that runs along it;
    /// then, the line's place known, with the edge learnt beside the line and in the line's colour.
    /// </summary>
    /// <param name="strip">The band at full resolution.</param>
    public static OutsideTrace? Find(BandStrip strip)
    {
        double last = strip.Axis.HandleStationMm - HandleMm;
        ForegroundMap map = ForegroundMap.Compute(strip, LookUpToMm);
        List<StandingRing> rings = RingSeries.Judged([.. StandingRings.Find(map).Where(r => r.Station < last)], strip.StepMm);
        rings = AlikeRings.Judged(strip, map, rings, last);
        if (rings.Count == 0)
            return null;
        BandStrip paired = strip.Paired();
        ThinResponse response = ThinResponse.Of(paired);
        TileSpread spread = TileSpread.Measure(response);
        EdgeFree free = EdgeFree.Compute(response, spread, EdgeProfile.Measure(paired, windowMm: WideWindowMm), null);
        ChordPath? path = ChordSearch.Best(ChordMap.Blind(free), rings);
        LineColour? colour = null;
        for (int pass = 0; pass < 2 && path is not null; pass++)
        {
            double[] levels = path.Levels(paired);
            free = EdgeFree.Compute(response, spread, EdgeProfile.Measure(paired, levels, WideWindowMm / 2), levels);
            colour = LineColour.Learn(Seen(free, levels));
            if (colour is null)
                return null;
            path = ChordSearch.Best(ChordMap.InColour(free, colour), rings);
        }
        return path is null ? null : new OutsideTrace(path, rings, colour!);
    }

    /// <summary>Medians of contrast and background of every block in which the line is clear of the blank.</summary>
    private static List<(double[] Contrast, double[] Background)> Seen(EdgeFree free, double[] levels)
    {
        int block = Math.Max(4, (int)Math.Round(BlockMm / free.Strip.StepMm));
        List<(double[] Contrast, double[] Background)> seen = [];
        for (int from = 0; from + block <= levels.Length; from += block)
        {
            int[] columns = [.. Enumerable.Range(from, block).Where(c => levels[c] >= free.First(c) + 1 && levels[c] < free.Strip.Last[c] - 1)];
            if (columns.Length < block / 2)
                continue;
            double[] contrast = new double[BandStrip.Channels];
            double[] background = new double[BandStrip.Channels];
            for (int channel = 0; channel < BandStrip.Channels; channel++)
            {
                int at = channel;
                contrast[channel] = Median(columns, c => free.Contrast(at, c)[(int)Math.Round(levels[c])]);
                background[channel] = Median(columns, c => free.Background(at, c)[(int)Math.Round(levels[c])]);
            }

            seen.Add((contrast, background));
        }

        return seen;
    }

    private static double Median(int[] columns, Func<int, float> at)
    {
        float[] values = [.. columns.Select(at)];
        return Middle.Of(values);
    }
}
