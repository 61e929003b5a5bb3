namespace DeflectScan.Tracing.Line;

/// <summary>
/// What a block's sums vary by where no line is: the median size of the sums of level runs, over zones of the band and their neighbours
/// (a line fills a few levels of one zone and hardly moves a median; a busy background raises it).
/// </summary>
internal sealed class ZoneNoise
{
    private const int ZoneLevels = 20;

    private readonly float[,,] _sd; // channel, block, zone
    private readonly int _levels;

    private ZoneNoise(float[,,] sd, int levels)
    {
        _sd = sd;
        _levels = levels;
    }

    /// <summary>1 / standard deviation of a block's sum at each level.</summary>
    public void InverseSd(int channel, int block, Span<float> into)
    {
        int zones = _sd.GetLength(2);
        for (int l = 0; l < _levels; l++)
        {
            float at = Math.Clamp(((l + 0.5f) / ZoneLevels) - 0.5f, 0, zones - 1);
            int z = Math.Min((int)at, zones - 2);
            float t = at - z;
            into[l] = 1 / (((1 - t) * _sd[channel, block, z]) + (t * _sd[channel, block, z + 1]));
        }
    }

    public static ZoneNoise Measure(ThinResponse response, int blockColumns)
    {
        BandStrip strip = response.Strip;
        int blocks = strip.Columns / blockColumns;
        int zones = Math.Max(2, strip.Levels / ZoneLevels);
        float[,,] raw = new float[BandStrip.Channels, blocks, zones];
        Parallel.For(0, blocks, b => MeasureBlock(response, b, blockColumns, raw));
        float[,,] sd = new float[BandStrip.Channels, blocks, zones];

        // Rounding to 8 bits alone gives a sum of n columns a standard deviation of about 0.3 sqrt(n), of n means of m columns 0.3 sqrt(n / m).
        float least = 0.3f * MathF.Sqrt((float)blockColumns / strip.Pooled);
        float[] near = new float[9];
        for (int channel = 0; channel < BandStrip.Channels; channel++)
        {
            for (int b = 0; b < blocks; b++)
            {
                for (int z = 0; z < zones; z++)
                {
                    int n = 0;
                    for (int i = Math.Max(0, b - 1); i <= Math.Min(blocks - 1, b + 1); i++)
                    {
                        for (int j = Math.Max(0, z - 1); j <= Math.Min(zones - 1, z + 1); j++)
                        {
                            if (raw[channel, i, j] >= 0)
                                near[n++] = raw[channel, i, j];
                        }
                    }

                    float median = n == 0 ? least : Middle.Of(near.AsSpan(0, n));
                    sd[channel, b, z] = Math.Max(least, Math.Max(median, raw[channel, b, z] * 0.7f));
                }
            }
        }

        return new ZoneNoise(sd, strip.Levels);
    }

    private static void MeasureBlock(ThinResponse response, int block, int blockColumns, float[,,] raw)
    {
        BandStrip strip = response.Strip;
        float[] sum = new float[strip.Levels];
        float[] zone = new float[2 * ZoneLevels];
        int middle = (block * blockColumns) + (blockColumns / 2);
        double blank = strip.Axis.RadiusMm(strip.Station(middle)) + (4 * strip.PxMm);
        for (int channel = 0; channel < BandStrip.Channels; channel++)
        {
            Array.Clear(sum);
            for (int c = 0; c < blockColumns; c++)
            {
                Spans.Add(sum, response.Thin(channel, (block * blockColumns) + c));
            }

            for (int z = 0; z < raw.GetLength(2); z++)
            {
                int n = 0;
                for (int l = z * ZoneLevels; l < Math.Min(sum.Length, (z + 1) * ZoneLevels); l++)
                {
                    if (Math.Abs(strip.Height(l)) > blank && l >= strip.First[middle] && l < strip.Last[middle])
                        zone[n++] = Math.Abs(sum[l]);
                }

                raw[channel, block, z] = n < 6 ? -1 : Middle.Of(zone.AsSpan(0, n)) / 0.6745f;
            }
        }
    }
}
