using DeflectScan.Numerics;

namespace DeflectScan.Tracing.Line;

/// <summary>
/// The band's contrast to a line, fit for lines that run close to the blank: within some px of its edge the edge's own profile is taken
/// off and the open background farther out is what the line is compared with; farther out both flanks of the line are. Only what lies near the edge is
/// kept, the rest is worked out column by column as it is asked for.
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

    private readonly ThinResponse _response;
    private readonly TileSpread _spread;
    private readonly int[] _first;
    private readonly float[][] _near = new float[BandStrip.Channels][]; // contrast, NearTo levels a column from its first on
    private readonly float[][] _open = new float[BandStrip.Channels][];
    private readonly float[][] _nearSd = new float[BandStrip.Channels][];

    private EdgeFree(ThinResponse response, TileSpread spread)
    {
        _response = response;
        _spread = spread;
        Strip = response.Strip;
        _first = [.. Enumerable.Range(0, Strip.Columns).Select(c => Math.Max(Strip.First[c], (int)Math.Ceiling(Strip.LevelOf(Strip.Axis.RadiusMm(Strip.Station(c)) + (NearestPx * Strip.PxMm)))))];
    }

    public BandStrip Strip { get; }

    /// <summary>First level above the blank at which a line can be told.</summary>
    public int First(int column) => _first[column];

    /// <summary>Difference of a place from what is behind it, grey values.</summary>
    public float Contrast(int channel, int column, int level) =>
        level < NearEnd(column) ? _near[channel][(column * NearTo) + level - _first[column]] : _response.Contrast(channel, column, level);

    /// <summary>What is behind a place, grey values.</summary>
    public float Background(int channel, int column, int level) =>
        level < NearEnd(column) ? _open[channel][column] : _response.Background(channel, column, level);

    /// <summary>A column from <see cref="First"/> to where it leaves the photo: contrast, background, and the contrast's standard deviation where there is no line.</summary>
    /// <param name="channel">Which.</param>
    /// <param name="column">Which.</param>
    /// <param name="into">Contrast, background and deviation by level; what lies outside is left as it was.</param>
    public void Read(int channel, int column, (float[] Contrast, float[] Background, float[] Sd) into)
    {
        int first = First(column);
        int last = Strip.Last[column];
        int near = Math.Min(NearEnd(column), last);
        for (int l = first; l < near; l++)
        {
            into.Contrast[l] = _near[channel][(column * NearTo) + l - first];
            into.Background[l] = _open[channel][column];
            into.Sd[l] = _nearSd[channel][column / TileColumns];
        }

        int from = Math.Max(first, near);
        if (from >= last)
            return;
        _response.Read(channel, column, (from, last), into.Contrast, into.Background);
        _spread.Read(channel, column, (from, last), into.Sd);
    }

    /// <param name="response">Response of the same band to thin lines.</param>
    /// <param name="spread">Its noise.</param>
    /// <param name="edge">What the blank's edge looks like.</param>
    /// <param name="line">The line's level where it is known, else NaN: the background is not taken from it.</param>
    public static EdgeFree Compute(ThinResponse response, TileSpread spread, EdgeProfile edge, double[]? line)
    {
        EdgeFree free = new(response, spread);
        Parallel.For(0, BandStrip.Channels, channel =>
        {
            free._open[channel] = free.Open(channel, line);
            free._near[channel] = new float[free.Strip.Columns * NearTo];
            for (int c = 0; c < free.Strip.Columns; c++)
                free.Fill(edge, channel, c);
            free._nearSd[channel] = free.NearNoise(channel, line);
        });
        return free;
    }

    private void Fill(EdgeProfile edge, int channel, int c)
    {
        int first = First(c);
        int count = Math.Min(NearEnd(c), Strip.Last[c]) - first;
        if (count <= 0)
            return;
        ReadOnlySpan<float> values = Strip.Column(channel, c);
        double station = Strip.Station(c);
        double radius = Strip.Axis.RadiusMm(station);
        float open = _open[channel][c];
        Span<float> clean = stackalloc float[NearTo + 4];
        for (int k = 0; k < count + 4; k++)
        {
            int l = Math.Clamp(first - 2 + k, 0, Strip.Levels - 1);
            clean[k] = values[l] - (float)edge.At(channel, station, Strip.Height(l) - radius) - open;
        }

        for (int k = 2; k < count + 2; k++)
            _near[channel][(c * NearTo) + k - 2] = (0.36f * clean[k]) + (0.22f * (clean[k - 1] + clean[k + 1])) + (0.1f * (clean[k - 2] + clean[k + 2]));
    }

    private int NearEnd(int column) => (int)Strip.SurfaceLevels[column] + NearTo;

    /// <summary>The open background beside the blank at every column.</summary>
    private float[] Open(int channel, double[]? line)
    {
        float[] one = new float[Strip.Columns];
        for (int c = 0; c < one.Length; c++)
        {
            int from = (int)Strip.SurfaceLevels[c] + OpenFrom;
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
    private float[] NearNoise(int channel, double[]? line)
    {
        float[] sd = new float[(Strip.Columns + TileColumns - 1) / TileColumns];
        float[] sample = new float[TileColumns * NearTo];
        for (int tile = 0; tile < sd.Length; tile++)
        {
            int n = 0;
            for (int c = tile * TileColumns; c < Math.Min(Strip.Columns, (tile + 1) * TileColumns); c++)
            {
                for (int l = First(c); l < Math.Min(NearEnd(c), Strip.Last[c]); l++)
                {
                    if (line is null || !(Math.Abs(line[c] - l) < 4))
                        sample[n++] = Math.Abs(Contrast(channel, c, l));
                }
            }

            sd[tile] = n == 0 ? LeastSd : Math.Max(LeastSd, Quickselect.Of(sample.AsSpan(0, n)) / (float)NormalLaw.MedianSize);
        }

        return sd;
    }
}
