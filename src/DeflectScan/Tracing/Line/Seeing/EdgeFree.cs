using DeflectScan.Numerics;

namespace DeflectScan.Tracing.Line;

/// <summary>
/// The band's contrast to a line, fit for lines that run close to the blank: within some px of its edge the edge's own profile is taken
/// off and the open background farther out is what the line is compared with; farther out both flanks of the line are.
/// </summary>
internal sealed class EdgeFree
{
    /// <summary>Near the blank: from this to that above its edge, levels (half px).</summary>
    private const int NearTo = 14;
    private const double NearestPx = 1.6;
    private const int OpenFrom = 14;
    private const int OpenLevels = 8;

    /// <summary>Columns to each side over which the open background is the mean.</summary>
    private const int OpenReach = 3;

    private const int TileColumns = 24;
    private const float LeastSd = 0.8f;

    private readonly float[][] _contrast;
    private readonly float[][] _background;
    private readonly float[][] _sd;

    private EdgeFree(BandStrip strip)
    {
        Strip = strip;
        int n = strip.Columns * strip.Levels;
        _contrast = [new float[n], new float[n], new float[n]];
        _background = [new float[n], new float[n], new float[n]];
        _sd = [new float[n], new float[n], new float[n]];
    }

    public BandStrip Strip { get; }

    /// <summary>Difference from what is behind it, grey values; 0 on the blank.</summary>
    public ReadOnlySpan<float> Contrast(int channel, int column) => _contrast[channel].AsSpan(column * Strip.Levels, Strip.Levels);

    public ReadOnlySpan<float> Background(int channel, int column) => _background[channel].AsSpan(column * Strip.Levels, Strip.Levels);

    /// <summary>Standard deviation of a contrast where there is no line.</summary>
    public ReadOnlySpan<float> Sd(int channel, int column) => _sd[channel].AsSpan(column * Strip.Levels, Strip.Levels);

    /// <summary>First level above the blank at which a line can be told.</summary>
    public int First(int column) => Math.Max(Strip.First[column], (int)Math.Ceiling(Strip.LevelOf(Strip.Axis.RadiusMm(Strip.Station(column)) + (NearestPx * Strip.PxMm))));

    /// <param name="response">Response of the same band to thin lines.</param>
    /// <param name="spread">Its noise.</param>
    /// <param name="edge">What the blank's edge looks like.</param>
    /// <param name="line">The line's level where it is known, else NaN: the background is not taken from it.</param>
    public static EdgeFree Compute(ThinResponse response, TileSpread spread, EdgeProfile edge, double[]? line)
    {
        EdgeFree free = new(response.Strip);
        for (int channel = 0; channel < BandStrip.Channels; channel++)
        {
            int at = channel;
            float[] open = free.Open(channel, line);
            Parallel.For(0, response.Strip.Columns, c => free.Fill(response, spread, edge, at, c, open[c]));
            free.NearNoise(channel, line);
        }

        return free;
    }

    private void Fill(ThinResponse response, TileSpread spread, EdgeProfile edge, int channel, int c, float open)
    {
        BandStrip strip = Strip;
        int first = First(c);
        int near = NearEnd(c);
        int at = c * strip.Levels;
        ReadOnlySpan<float> thin = response.Thin(channel, c);
        ReadOnlySpan<float> slant = response.Slant(channel, c);
        for (int l = Math.Max(first, near); l < strip.Last[c]; l++)
        {
            // The lesser contrast of both flanks: beside a line, and at an edge, one flank is like the middle.
            _contrast[channel][at + l] = MathF.CopySign(MathF.Max(0, MathF.Abs(thin[l]) - MathF.Abs(slant[l])), thin[l]);
            _background[channel][at + l] = response.Background(channel, c, l);
            _sd[channel][at + l] = spread.Sd(channel, c, l);
        }

        ReadOnlySpan<float> values = strip.Column(channel, c);
        double station = strip.Station(c);
        double radius = strip.Axis.RadiusMm(station);
        Span<float> clean = stackalloc float[NearTo + 6];
        int from = first - 2;
        for (int k = 0; k < clean.Length; k++)
        {
            int l = Math.Clamp(from + k, 0, strip.Levels - 1);
            clean[k] = values[l] - (float)edge.At(channel, station, strip.Height(l) - radius) - open;
        }

        for (int l = first; l < Math.Min(near, strip.Last[c]); l++)
        {
            int k = l - from;
            if (k + 2 >= clean.Length)
                break;
            _contrast[channel][at + l] = (0.36f * clean[k]) + (0.22f * (clean[k - 1] + clean[k + 1])) + (0.1f * (clean[k - 2] + clean[k + 2]));
            _background[channel][at + l] = open;
        }
    }

    private int NearEnd(int column) => (int)Strip.LevelOf(Strip.Axis.RadiusMm(Strip.Station(column))) + NearTo;

    /// <summary>The open background beside the blank at every column.</summary>
    private float[] Open(int channel, double[]? line)
    {
        float[] one = new float[Strip.Columns];
        for (int c = 0; c < one.Length; c++)
        {
            int from = (int)Strip.LevelOf(Strip.Axis.RadiusMm(Strip.Station(c))) + OpenFrom;
            if (line is not null && Math.Abs(line[c] - (from + (OpenLevels / 2.0))) < OpenLevels)
                from += 2 * OpenLevels;
            ReadOnlySpan<float> values = Strip.Column(channel, c);
            for (int l = from; l < from + OpenLevels; l++)
                one[c] += values[Math.Min(l, values.Length - 1)] / OpenLevels;
        }

        float[] mean = new float[one.Length];
        for (int c = 0; c < one.Length; c++)
        {
            int first = Math.Max(0, c - OpenReach);
            int last = Math.Min(one.Length - 1, c + OpenReach);
            for (int k = first; k <= last; k++)
                mean[c] += one[k] / (last - first + 1);
        }

        return mean;
    }

    /// <summary>Noise near the blank by tiles: from the median absolute contrast, the line left out where it is known.</summary>
    private void NearNoise(int channel, double[]? line)
    {
        int tiles = (Strip.Columns + TileColumns - 1) / TileColumns;
        Parallel.For(0, tiles, tile =>
        {
            int last = Math.Min(Strip.Columns, (tile + 1) * TileColumns);
            float[] sample = new float[TileColumns * (NearTo + 2)];
            int n = 0;
            for (int c = tile * TileColumns; c < last; c++)
            {
                for (int l = First(c); l < Math.Min(NearEnd(c), Strip.Last[c]) && n < sample.Length; l++)
                {
                    if (line is null || !(Math.Abs(line[c] - l) < 4))
                        sample[n++] = Math.Abs(_contrast[channel][(c * Strip.Levels) + l]);
                }
            }

            float sd = n == 0 ? LeastSd : Math.Max(LeastSd, Quickselect.Of(sample.AsSpan(0, n)) / (float)NormalLaw.MedianSize);
            for (int c = tile * TileColumns; c < last; c++)
            {
                for (int l = First(c); l < Math.Min(NearEnd(c), Strip.Last[c]); l++)
                    _sd[channel][(c * Strip.Levels) + l] = sd;
            }
        });
    }
}
