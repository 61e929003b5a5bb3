namespace DeflectScan.Tracing.Line;

/// <summary>
/// Takes from the response what runs along the blank's edge for a long way: the edge itself and the halo that sharpening leaves beside
/// it. The line never does so: it is straight where the blank is bent, so it stays at one height for less than half the window.
/// What is left there varies more than the open background does; by how much is kept as a floor of the noise.
/// </summary>
internal sealed class BlankHalo
{
    private const double WindowMm = 100;
    private const int ReachLevels = 12; // six px

    private readonly float[][] _floors; // channel * reach + levels above the edge; by block: sd of a block's sum
    private readonly int[] _edges;
    private readonly int _reach;

    private BlankHalo(float[][] floors, int[] edges, int reach)
    {
        _floors = floors;
        _edges = edges;
        _reach = reach;
    }

    /// <summary>Lowers 1 / sd at the levels beside the blank to what a block's sums there vary by along the blank.</summary>
    public void Lower(int channel, int block, int column, Span<float> inverseSd)
    {
        for (int above = 0; above < _reach; above++)
        {
            int level = _edges[column] + above;
            if (level < inverseSd.Length)
                inverseSd[level] = Math.Min(inverseSd[level], 1 / _floors[(channel * _reach) + above][block]);
        }
    }

    public static BlankHalo Remove(ThinResponse response, int blockColumns)
    {
        BandStrip strip = response.Strip;
        int blocks = strip.Columns / blockColumns;
        const int reach = ReachLevels;
        int window = (int)Math.Ceiling(WindowMm / (blockColumns * strip.StepMm));
        int[] edges = [.. Enumerable.Range(0, strip.Columns).Select(c => (int)Math.Round(strip.LevelOf(strip.Axis.RadiusMm(strip.Station(c)))))];
        float[][] floors = new float[BandStrip.Channels * reach][];
        Parallel.For(0, BandStrip.Channels * reach, k =>
        {
            int channel = k / reach;
            int above = k % reach;
            floors[k] = Level(above, channel, slant: false);
            Level(above, channel, slant: true);
        });
        return new BlankHalo(floors, edges, reach);

        float[] Level(int above, int channel, bool slant)
        {
            float[] means = new float[blocks];
            for (int c = 0; c < blocks * blockColumns; c++)
                means[c / blockColumns] += response.Writable(channel, c, slant)[Math.Min(edges[c] + above, strip.Levels - 1)] / blockColumns;
            float[] usual = new float[blocks];
            float[] floor = new float[blocks];
            float[] sample = new float[(2 * window) + 1];
            for (int b = 0; b < blocks; b++)
            {
                int first = Math.Max(0, b - window);
                Span<float> near = sample.AsSpan(0, Math.Min(blocks - 1, b + window) - first + 1);
                means.AsSpan(first, near.Length).CopyTo(near);
                usual[b] = Middle.Of(near);
                for (int i = 0; i < near.Length; i++)
                    near[i] = Math.Abs(near[i] - usual[b]);
                floor[b] = (Middle.Of(near) * blockColumns / 0.6745f) + 1e-3f;
            }

            for (int c = 0; c < strip.Columns; c++)
                response.Writable(channel, c, slant)[Math.Min(edges[c] + above, strip.Levels - 1)] -= usual[Math.Min(c / blockColumns, blocks - 1)];
            return floor;
        }
    }
}
