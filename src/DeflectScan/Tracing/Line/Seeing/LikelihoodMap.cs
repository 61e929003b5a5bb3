namespace DeflectScan.Tracing.Line;

/// <summary>
/// For every sample of the band the log-likelihood ratio of "the line, with its known colour, runs here along the band" against "it does
/// not": all channels joined, each weighed by its local noise, held within bounds so that no sample decides alone.
/// </summary>
internal sealed class LikelihoodMap
{
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
}
