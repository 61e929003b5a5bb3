namespace DeflectScan.Imaging;

/// <summary>How light a colour is. There are two weightings, as thresholds have been set on either.</summary>
internal static class Luma
{
    /// <summary>ITU-R BT.601, from memory: what blanks are searched in.</summary>
    public static float Of601(float blue, float green, float red) => (0.114f * blue) + (0.587f * green) + (0.299f * red);

    /// <summary>The sampler's own weights, round numbers near BT.601's: edges, cord and line are measured in it.</summary>
    public static double Sampled(double blue, double green, double red) => (0.25 * red) + (0.6 * green) + (0.15 * blue);
}
