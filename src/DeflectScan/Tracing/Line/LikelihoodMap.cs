namespace DeflectScan.Tracing.Line;

/// <summary>
/// For every sample of the band the log-likelihood ratio of "the line, with its known colour, runs here along the band" against "it does
/// not": all channels joined, each weighed by its local noise, held within bounds so that no sample decides alone.
/// </summary>
internal sealed class LikelihoodMap
{
    private const float Most = 2.5f;
    private readonly float[] _values;

    private LikelihoodMap(BandStrip strip, float[] values)
    {
        Strip = strip;
        _values = values;
    }

    public BandStrip Strip { get; }

    public ReadOnlySpan<float> Column(int column) => _values.AsSpan(column * Strip.Levels, Strip.Levels);

    public static LikelihoodMap Compute(ThinResponse response, LineColour colour)
    {
        BandStrip strip = response.Strip;
        float[] values = new float[strip.Columns * strip.Levels];
        TileSpread spread = TileSpread.Measure(response);
        Parallel.For(0, strip.Columns, column =>
        {
            Span<float> into = values.AsSpan(column * strip.Levels, strip.Levels);
            double bare = strip.Axis.RadiusMm(strip.Station(column)) + (2.2 * strip.StepMm);
            int from = Math.Max(strip.First[column], (int)Math.Ceiling(strip.LevelOf(bare)));
            for (int channel = 0; channel < BandStrip.Channels; channel++)
            {
                ReadOnlySpan<float> thin = response.Thin(channel, column);
                ReadOnlySpan<float> slant = response.Slant(channel, column);
                for (int l = from; l < strip.Last[column]; l++)
                {
                    // The flanks' own difference is doubt about the background.
                    float sd = spread.Sd(channel, column, l);
                    float variance = (sd * sd) + (0.1f * slant[l] * slant[l]);
                    float expected = (float)colour.Contrast(channel, response.Background(channel, column, l));
                    float tolerance = variance + (0.06f * expected * expected);
                    into[l] += ((thin[l] * expected) - (0.5f * expected * expected)) / tolerance;
                }
            }

            for (int l = from; l < strip.Last[column]; l++)
                into[l] = Math.Clamp(into[l], -Most, Most);
        });
        return new LikelihoodMap(strip, values);
    }
}
