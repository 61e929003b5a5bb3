namespace DeflectScan.Tracing.Line;

/// <summary>
/// Holds every sample of the response within its neighbourhood's own spread (median absolute deviation over a tile) and drops what lies
/// far beyond it, so that dots, specks and edges that cross the line's way do not outweigh a whole block: Hampel's three-part function
/// (Andrews et al. 1972, "Robust Estimates of Location").
/// </summary>
internal static class ResponseClip
{
    private const float Held = 1.7f;
    private const float Falling = 4f;
    private const float Dropped = 6.5f;

    public static ThinResponse Clipped(ThinResponse raw)
    {
        ThinResponse response = raw.Copy();
        TileSpread spread = TileSpread.Measure(raw);
        Parallel.For(0, raw.Strip.Columns, column =>
        {
            for (int channel = 0; channel < BandStrip.Channels; channel++)
            {
                Clip(response.Writable(channel, column, slant: false), spread, channel, column);
                Clip(response.Writable(channel, column, slant: true), spread, channel, column);
            }
        });
        return response;
    }

    private static void Clip(Span<float> values, TileSpread spread, int channel, int column)
    {
        for (int l = 0; l < values.Length; l++)
        {
            float sd = spread.Sd(channel, column, l);
            float size = MathF.Abs(values[l]) / sd;
            if (size <= Held)
                continue;
            float held = size <= Falling ? Held : Held * MathF.Max(0, (Dropped - size) / (Dropped - Falling));
            values[l] = MathF.CopySign(held * sd, values[l]);
        }
    }
}
