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
    private const float KinkCost = 5;
    private const float Never = -1e9f;

    public static BandPath? Best(BlockEvidence evidence, double turnSign, double startReachMm)
    {
        BandStrip strip = evidence.Strip;
        int levels = strip.Levels;
        int rises = evidence.Rises;
        float[] best = new float[levels * rises];
        float[] next = new float[levels * rises];
        short[][] from = new short[evidence.Blocks + 1][];
        Array.Fill(best, Never);
        (float Score, int Node, int State) top = (0, -1, -1);
        int startTo = (int)strip.LevelOf(11);
        int startFrom = Math.Max(0, (int)strip.LevelOf(0.5));
        float[] entry = new float[rises];
        short[] entryFrom = new short[rises];
        for (int b = 0; b < evidence.Blocks; b++)
        {
            Array.Fill(next, Never);
            from[b + 1] = new short[levels * rises];
            double drift = Drift(evidence, b);
            bool mayStart = Math.Abs(strip.Station(b * evidence.BlockColumns)) <= startReachMm;
            for (int l = 0; l < levels; l++)
            {
                Enter(best.AsSpan(l * rises, rises), entry, entryFrom, drift, turnSign);
                for (int r = 0; r < rises; r++)
                {
                    float value = entry[r];
                    short source = entryFrom[r];
                    if (mayStart && l >= startFrom && l <= startTo && value < 0)
                        (value, source) = (0, -1);
                    int end = l + r - evidence.MaxRise;
                    if (value <= Never / 2 || end < 0 || end >= levels)
                        continue;
                    value += evidence.Scores(b, r - evidence.MaxRise)[l];
                    int state = (end * rises) + r;
                    next[state] = value;
                    from[b + 1][state] = source;
                    if (value > top.Score)
                        top = (value, b + 1, state);
                }
            }

            (best, next) = (next, best);
        }

        return top.Node < 0 ? null : Walk(from, top, evidence);
    }

    /// <summary>By how many levels a straight line's rise changes from the block before to this one.</summary>
    private static double Drift(BlockEvidence evidence, int block)
    {
        BandStrip strip = evidence.Strip;
        double blockMm = evidence.BlockColumns * strip.StepMm;
        double curvature = strip.Curvatures[Math.Min(block * evidence.BlockColumns, strip.Columns - 1)];
        return -curvature * blockMm * blockMm / strip.LevelMm;
    }

    /// <summary>For each rise the best way in from the rises of the block before, at one level.</summary>
    private static void Enter(ReadOnlySpan<float> before, float[] entry, short[] entryFrom, double drift, double turnSign)
    {
        int rises = before.Length;
        float running = Never;
        short runningFrom = -1;
        int settled = turnSign > 0 ? 0 : rises - 1;
        for (int i = 0; i < rises; i++)
        {
            int r = turnSign > 0 ? i : rises - 1 - i;
            float value = Never;
            short source = -1;
            int straight = (int)Math.Round(r - drift);
            for (int p = straight - 1; p <= straight + 1; p++)
            {
                if (p < 0 || p >= rises)
                    continue;
                double off = r - drift - p;
                float v = before[p] - (float)(1.5 * off * off);
                if (v > value)
                    (value, source) = (v, (short)p);
            }

            // Rises at least two levels short of straight, in the turning direction: a ring.
            int reach = turnSign > 0 ? straight - 2 : straight + 2;
            for (; turnSign > 0 ? settled <= reach && settled < rises : settled >= reach && settled >= 0; settled += turnSign > 0 ? 1 : -1)
            {
                if (before[settled] > running)
                    (running, runningFrom) = (before[settled], (short)settled);
            }

            if (running - KinkCost > value)
                (value, source) = (running - KinkCost, runningFrom);
            entry[r] = value;
            entryFrom[r] = source;
        }
    }

    private static BandPath Walk(short[][] from, (float Score, int Node, int State) top, BlockEvidence evidence)
    {
        List<int> levels = [];
        List<int> rises = [];
        int level = top.State / evidence.Rises;
        int rise = top.State % evidence.Rises;
        int node = top.Node;
        levels.Add(level);
        while (true)
        {
            int source = from[node][(level * evidence.Rises) + rise];
            rises.Add(rise - evidence.MaxRise);
            level -= rise - evidence.MaxRise;
            levels.Add(level);
            node--;
            if (source < 0)
                break;
            rise = source;
        }

        levels.Reverse();
        rises.Reverse();
        return new BandPath(node, levels, rises, top.Score);
    }
}
