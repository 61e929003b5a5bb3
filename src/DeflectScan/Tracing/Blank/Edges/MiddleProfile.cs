using DeflectScan.Numerics;

namespace DeflectScan.Tracing.Blank;

/// <summary>The middle profile of a stretch: each value the median over its stations, so that what comes and goes drops out.</summary>
internal static class MiddleProfile
{
    /// <param name="band">Profiles.</param>
    /// <param name="stations">Indices in the band.</param>
    /// <param name="from">For each station the offset, mm, of the first value.</param>
    /// <param name="stepMm">From value to value; negative: towards the other side.</param>
    /// <param name="count">Values.</param>
    /// <returns>All stations' values, one after the other: station, value, colour.</returns>
    public static double[] Values(ProfileBand band, IReadOnlyList<int> stations, double[] from, double stepMm, int count)
    {
        double[] values = new double[stations.Count * count * 3];
        for (int i = 0; i < stations.Count; i++)
            Fill(band, stations[i], from[i], stepMm, values.AsSpan(i * count * 3, count * 3));
        return values;
    }

    /// <summary>One station's values.</summary>
    public static void Fill(ProfileBand band, int station, double fromMm, double stepMm, Span<double> values)
    {
        for (int k = 0; k < values.Length / 3; k++)
        {
            Colour c = band.At(station, fromMm + (k * stepMm));
            (values[3 * k], values[(3 * k) + 1], values[(3 * k) + 2]) = (c.B, c.G, c.R);
        }
    }

    /// <summary>The median over the stations of every value.</summary>
    public static double[] Of(double[] values, int stations, int length)
    {
        double[] middle = new double[length];
        double[] column = new double[stations];
        for (int k = 0; k < length; k++)
        {
            for (int i = 0; i < stations; i++)
                column[i] = values[(i * length) + k];
            middle[k] = OrderStatistics.MedianInPlace(column);
        }

        return middle;
    }
}
