using System.Numerics;

namespace DeflectScan.Tracing.Line;

/// <summary>
/// How well a thin line from level h at a block's first column to level h + rise at its last column explains the picture, for every h
/// and every rise: log-likelihood ratio against "nothing there". A block is a run of columns over which the response to a thin line is
/// summed before it is squared, so that a line far below the noise of one pixel is still seen; sums of all rises are what a fast
/// Radon transform gives, here direct because the rises are few.
/// </summary>
internal sealed class BlockEvidence
{
    /// <summary>Score where nothing can be told: on the blank, outside the photo.</summary>
    private const float Neutral = -0.4f;

    private readonly float[][] _scores;
    private readonly float _onBlank;

    private BlockEvidence(BandStrip strip, int blockColumns, int maxRise, float onBlank)
    {
        Strip = strip;
        BlockColumns = blockColumns;
        MaxRise = maxRise;
        _onBlank = onBlank;
        Blocks = Strip.Columns / blockColumns;
        _scores = new float[Blocks][];
    }

    public BandStrip Strip { get; }

    public int BlockColumns { get; }

    public int MaxRise { get; }

    public int Blocks { get; }

    public int Rises => (2 * MaxRise) + 1;

    /// <summary>Scores of a block for one rise (-MaxRise to MaxRise), by starting level.</summary>
    public ReadOnlySpan<float> Scores(int block, int rise) =>
        _scores[block].AsSpan((rise + MaxRise) * Strip.Levels, Strip.Levels);

    public static BlockEvidence Compute(ThinResponse response, double blockMm, double maxSlope, bool mayLieOnBlank)
    {
        int columns = 2 * Math.Max(3, (int)Math.Round(blockMm / response.Strip.StepMm / 2));
        BlockEvidence evidence = new(response.Strip, columns, (int)Math.Ceiling(maxSlope * columns * response.Strip.StepMm / response.Strip.LevelMm), mayLieOnBlank ? Neutral : -2.5f);

        // Two ways to sum a block, the better one counts: as it is (best in even noise) and clipped (best among dots and specks).
        BlankHalo halo = BlankHalo.Remove(response, columns);
        ThinResponse clipped = ResponseClip.Clipped(response);
        (ThinResponse, ZoneNoise)[] ways = [(response, ZoneNoise.Measure(response, columns)), (clipped, ZoneNoise.Measure(clipped, columns))];
        Parallel.For(0, evidence.Blocks, b => evidence._scores[b] = evidence.ScoreBlock(ways, halo, b));
        return evidence;
    }

    /// <summary>Scores from samples of known colour: a block's score is their sum, less what texture makes neighbours alike.</summary>
    public static BlockEvidence Compute(LikelihoodMap map, BlockEvidence like, float likeness)
    {
        BlockEvidence evidence = new(map.Strip, like.BlockColumns, like.MaxRise, like._onBlank);
        Parallel.For(0, evidence.Blocks, b => evidence._scores[b] = evidence.SumBlock(map, b, 1 / likeness));
        return evidence;
    }

    private float[] SumBlock(LikelihoodMap map, int block, float factor)
    {
        int levels = Strip.Levels;
        int middle = (block * BlockColumns) + (BlockColumns / 2);
        float[] scores = new float[Rises * levels];
        BlockSum sum = new(BlockColumns, levels);
        sum.Load(map, block * BlockColumns);
        double bare = Strip.Axis.RadiusMm(Strip.Station(middle)) + (2.2 * Strip.PxMm);
        for (int rise = -MaxRise; rise <= MaxRise; rise++)
        {
            Span<float> into = scores.AsSpan((rise + MaxRise) * levels, levels);
            sum.AddTo(into, rise);
            Spans.Scale(into, factor);
            Finish(into, rise, middle, bare);
        }

        return scores;
    }

    private float[] ScoreBlock((ThinResponse Response, ZoneNoise Noise)[] ways, BlankHalo halo, int block)
    {
        int levels = Strip.Levels;
        int middle = (block * BlockColumns) + (BlockColumns / 2);
        float[] scores = new float[Rises * levels];
        BlockSum[] sums = [.. ways.Select(_ => new BlockSum(BlockColumns, levels))];
        float[] z = new float[levels];
        for (int channel = 0; channel < BandStrip.Channels; channel++)
        {
            for (int w = 0; w < ways.Length; w++)
            {
                sums[w].Load(ways[w].Response, channel, block * BlockColumns);
                ways[w].Noise.InverseSd(channel, block, sums[w].InverseSd);
                halo.Lower(channel, block, middle, sums[w].InverseSd);
            }

            for (int rise = -MaxRise; rise <= MaxRise; rise++)
            {
                Array.Clear(z);
                foreach (BlockSum sum in sums)
                    sum.RaiseTo(z, rise);
                AddLikelihood(scores.AsSpan((rise + MaxRise) * levels, levels), z);
            }
        }

        double bare = Strip.Axis.RadiusMm(Strip.Station(middle)) + (2.2 * Strip.PxMm);
        for (int rise = -MaxRise; rise <= MaxRise; rise++)
            Finish(scores.AsSpan((rise + MaxRise) * levels, levels), rise, middle, bare);
        return scores;
    }

    private void Finish(Span<float> scores, int rise, int middle, double bareMm)
    {
        int bareLevel = (int)Math.Ceiling(Strip.LevelOf(bareMm)) - (rise / 2);
        int blankLevel = (int)Math.Floor(Strip.LevelOf(0)) - (rise / 2);
        for (int l = 0; l < scores.Length; l++)
        {
            int centre = l + (rise / 2);
            if (l < bareLevel && l >= blankLevel)
                scores[l] = _onBlank;
            else if (l < blankLevel || centre < 0 || centre >= scores.Length)
                scores[l] = -50;
            else if (centre < Strip.First[middle] || centre >= Strip.Last[middle])
                scores[l] = Neutral;
            else
                scores[l] = Math.Clamp(scores[l], -2.5f, 14f);
        }
    }

    /// <summary>Log-likelihood ratio of a line of unknown contrast (normal prior, ten times the noise's variance) against none.</summary>
    private static void AddLikelihood(Span<float> scores, float[] z)
    {
        int width = Vector<float>.Count;
        int l = 0;
        for (; l <= scores.Length - width; l += width)
        {
            Vector<float> size = new(z.AsSpan(l));
            (new Vector<float>(scores[l..]) + (new Vector<float>(0.4545f) * size * size) - new Vector<float>(1.2f)).CopyTo(scores[l..]);
        }

        for (; l < scores.Length; l++)
            scores[l] += (0.4545f * z[l] * z[l]) - 1.2f;
    }
}
