using System.Numerics;

namespace DeflectScan.Tracing.Line;

/// <summary>
/// For every sample of the band the log-likelihood ratio of "the line, with its known colour, runs here along the band" against "it does
/// not": all channels joined, each weighed by its local noise, held within bounds so that no sample decides alone.
/// </summary>
internal sealed class LikelihoodMap
{
    private const float Most = 2.5f;

    /// <summary>The flanks' own difference is doubt about the background.</summary>
    private const float SlantShare = 0.1f;

    /// <summary>How well the colour tells the contrast: squared share.</summary>
    private const float ContrastShare = 0.06f;

    private readonly float[] _values;

    /// <summary>A map with nothing in it yet.</summary>
    public LikelihoodMap(BandStrip strip)
    {
        Strip = strip;
        _values = new float[strip.Columns * strip.Levels];
    }

    public BandStrip Strip { get; }

    public ReadOnlySpan<float> Column(int column) => _values.AsSpan(column * Strip.Levels, Strip.Levels);

    public Span<float> Writable(int column) => _values.AsSpan(column * Strip.Levels, Strip.Levels);

    /// <summary>The map of a band along the blank.</summary>
    public static LikelihoodMap Compute(ThinResponse response, TileSpread spread, LineColour colour)
    {
        LikelihoodMap map = new(response.Strip);
        BandStrip strip = map.Strip;
        Parallel.For(0, strip.Columns, column =>
        {
            double bare = strip.Axis.RadiusMm(strip.Station(column)) + (2.2 * strip.PxMm);
            int from = Math.Max(strip.First[column], (int)Math.Ceiling(strip.LevelOf(bare)));
            int to = Math.Max(from, strip.Last[column]);
            Span<float> into = map.Writable(column);
            for (int channel = 0; channel < BandStrip.Channels; channel++)
            {
                for (int tile = from; tile < to; tile = (tile / TileSpread.TileLevels * TileSpread.TileLevels) + TileSpread.TileLevels)
                {
                    int end = Math.Min(to, (tile / TileSpread.TileLevels * TileSpread.TileLevels) + TileSpread.TileLevels);
                    Add(response, channel, column, (tile, end), spread.Sd(channel, column, tile), colour, into);
                }
            }

            for (int l = from; l < to; l++)
                into[l] = Math.Clamp(into[l], -Most, Most);
        });
        return map;
    }

    private static void Add(ThinResponse response, int channel, int column, (int From, int To) levels, float sd, LineColour colour, Span<float> into)
    {
        ReadOnlySpan<float> thin = response.Thin(channel, column);
        ReadOnlySpan<float> slant = response.Slant(channel, column);
        ReadOnlySpan<float> values = response.Strip.Column(channel, column);
        int flank = channel > 0 ? ThinResponse.ColourFlank : ThinResponse.LumaFlank;
        int width = Vector<float>.Count;
        Vector<float> noise = new(sd * sd);
        Vector<float> own = new((float)colour.Own(channel));
        Vector<float> quarterShare = new((float)(0.25 * colour.Share(channel)));
        int l = levels.From;
        while (l < levels.To)
        {
            if (l - flank - 1 < 0 || l + flank + width >= values.Length || l + width > levels.To)
            {
                float expected = (float)colour.Contrast(channel, response.Background(channel, column, l));
                float tolerance = (sd * sd) + (SlantShare * slant[l] * slant[l]) + (ContrastShare * expected * expected);
                into[l] += ((thin[l] * expected) - (0.5f * expected * expected)) / tolerance;
                l++;
                continue;
            }

            Vector<float> around = new Vector<float>(values[(l - flank)..]) + new Vector<float>(values[(l - flank - 1)..])
                + new Vector<float>(values[(l + flank)..]) + new Vector<float>(values[(l + flank + 1)..]);
            Vector<float> contrast = own - (quarterShare * around);
            Vector<float> slants = new(slant[l..]);
            Vector<float> square = contrast * contrast;
            Vector<float> doubt = noise + (new Vector<float>(SlantShare) * slants * slants) + (new Vector<float>(ContrastShare) * square);
            Vector<float> ratio = ((new Vector<float>(thin[l..]) * contrast) - (new Vector<float>(0.5f) * square)) / doubt;
            (new Vector<float>(into[l..]) + ratio).CopyTo(into[l..]);
            l += width;
        }
    }
}
