namespace DeflectScan.Tracing.Line;

/// <summary>A line path through the band: level and rise at each block from the tip on.</summary>
/// <param name="FirstBlock">Block where the path starts.</param>
/// <param name="Levels">Level at each block's first column, and one more at the end.</param>
/// <param name="Rises">Rise over each block.</param>
/// <param name="Score">Sum of evidence less the kinks' cost.</param>
internal sealed record BandPath(int FirstBlock, IReadOnlyList<int> Levels, IReadOnlyList<int> Rises, double Score);

/// <summary>
/// The best taut line through the band by dynamic programming over (level, rise): between rings it is straight in the plane, so in the
/// band its slope changes as the blank's curvature says; at a ring it turns, always to the same side.
/// </summary>
internal static class PathSearch
{
    private const double HighestStartMm = 11;
    private const double LowestStartMm = 0.5;

    public static BandPath? Best(BlockEvidence evidence, double turnSign, double startReachMm)
    {
        BandStrip strip = evidence.Strip;
        PathStep step = new(strip.Levels, evidence.Rises, turnSign);
        byte[][] from = new byte[evidence.Blocks][];
        (float Score, int Block, int State) top = (0, -1, -1);
        (int From, int To) start = (Math.Max(0, (int)strip.LevelOf(LowestStartMm)), (int)strip.LevelOf(HighestStartMm));
        for (int b = 0; b < evidence.Blocks; b++)
        {
            bool mayStart = Math.Abs(strip.Station(b * evidence.BlockColumns)) <= startReachMm;
            from[b] = step.Over(evidence, b, Drift(evidence, b), mayStart ? start : (0, -1));
            (float score, int state) = step.Top();
            if (score > top.Score)
                top = (score, b, state);
        }

        return top.Block < 0 ? null : Walk(from, top, evidence);
    }

    /// <summary>By how many levels a straight line's rise changes from the block before to this one.</summary>
    private static double Drift(BlockEvidence evidence, int block)
    {
        BandStrip strip = evidence.Strip;
        double blockMm = evidence.BlockColumns * strip.StepMm;
        double curvature = strip.Curvatures[Math.Min(block * evidence.BlockColumns, strip.Columns - 1)];
        return -curvature * blockMm * blockMm / strip.LevelMm;
    }

    private static BandPath Walk(byte[][] from, (float Score, int Block, int State) top, BlockEvidence evidence)
    {
        List<int> levels = [];
        List<int> rises = [];
        int rise = top.State / evidence.Strip.Levels;
        int level = top.State % evidence.Strip.Levels;
        int block = top.Block;
        levels.Add(level);
        while (true)
        {
            int source = from[block][(rise * evidence.Strip.Levels) + level];
            rises.Add(rise - evidence.MaxRise);
            level -= rise - evidence.MaxRise;
            levels.Add(level);
            if (source == PathStep.Start)
                break;
            block--;
            rise = source;
        }

        levels.Reverse();
        rises.Reverse();
        return new BandPath(block, levels, rises, top.Score);
    }
}
