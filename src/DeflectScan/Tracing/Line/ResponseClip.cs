using System.Numerics;

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
        ThinResponse clipped = raw.Empty();
        TileSpread spread = TileSpread.Measure(raw);
        Parallel.For(0, raw.Strip.Columns, column =>
        {
            for (int channel = 0; channel < BandStrip.Channels; channel++)
            {
                Clip(raw.Thin(channel, column), clipped.Writable(channel, column, slant: false), spread, channel, column);
                Clip(raw.Slant(channel, column), clipped.Writable(channel, column, slant: true), spread, channel, column);
            }
        });
        return clipped;
    }

    private static void Clip(ReadOnlySpan<float> values, Span<float> into, TileSpread spread, int channel, int column)
    {
        for (int from = 0; from < values.Length; from += TileSpread.TileLevels)
        {
            int count = Math.Min(TileSpread.TileLevels, values.Length - from);
            Clip(values.Slice(from, count), into.Slice(from, count), spread.Sd(channel, column, from));
        }
    }

    private static void Clip(ReadOnlySpan<float> values, Span<float> into, float sd)
    {
        int width = Vector<float>.Count;
        Vector<float> held = new(Held * sd);
        Vector<float> dropped = new(Dropped / (Dropped - Falling));
        Vector<float> fall = new(1 / (sd * (Dropped - Falling)));
        int l = 0;
        for (; l <= values.Length - width; l += width)
        {
            Vector<float> value = new(values[l..]);
            Vector<float> size = Vector.Abs(value);
            Vector<float> most = held * Vector.Min(Vector<float>.One, Vector.Max(Vector<float>.Zero, dropped - (fall * size)));
            Vector<float> kept = Vector.Min(size, most);
            Vector.ConditionalSelect(Vector.LessThan(value, Vector<float>.Zero), -kept, kept).CopyTo(into[l..]);
        }

        for (; l < values.Length; l++)
        {
            float size = MathF.Abs(values[l]);
            float most = Held * sd * MathF.Min(1, MathF.Max(0, (Dropped - (size / sd)) / (Dropped - Falling)));
            into[l] = MathF.CopySign(MathF.Min(size, most), values[l]);
        }
    }
}
