using DeflectScan.Tracing.Reading;

namespace DeflectScan.Tests.Tracing.Reading;

/// <summary>What the network might say of a strip, made up place by place: nothing anywhere but at the places given.</summary>
internal static class MadeReading
{
    /// <summary>Calibration of the peaks: 2.37 + 3.57 x what the network says.</summary>
    private const double Offset = 2.37;
    private const double Slope = 3.57;

    private const float Nothing = -30;
    private const double CellMm = 4;
    private const double CellHeightMm = 2;
    private const double LowestMm = -40;
    private const int Rows = 56;

    /// <summary>Room for stations from the first to this one, mm.</summary>
    public const double FarthestMm = 1200;

    private static double Own(double calibrated) => (calibrated - Offset) / Slope;

    /// <param name="rings">Ring contacts with their calibrated log-odds, any order; four cells or more apart.</param>
    /// <param name="tips">The same of tip-tops.</param>
    /// <param name="insideLogOdds">Log-odds of the inside.</param>
    public static StripReading Of(IEnumerable<RingCandidate> rings, IEnumerable<RingCandidate>? tips = null, double insideLogOdds = 0)
    {
        StripFrame frame = new(FarthestMm, (int)FarthestMm + 48, 1);
        int columns = frame.Columns / StripReading.CellColumns;
        float[] along = new float[Rows * columns];
        float[] across = new float[Rows * columns];
        ReadingMap ring = Map(rings);
        ReadingMap tip = Map(tips ?? []);
        return new StripReading(frame, ring, tip, Map([]), Map([]), Map([]), new ReadingMap(along, Rows, columns), new ReadingMap(across, Rows, columns), insideLogOdds);

        ReadingMap Map(IEnumerable<RingCandidate> places)
        {
            float[] values = new float[Rows * columns];
            Array.Fill(values, Nothing);
            foreach (RingCandidate place in places)
            {
                double column = ((FarthestMm - place.Station) / CellMm) - 0.5;
                double row = ((place.HeightMm - LowestMm) / CellHeightMm) - 0.5;
                int at = ((int)Math.Round(row) * columns) + (int)Math.Round(column);
                values[at] = (float)Own(place.LogOdds);
                along[at] = (float)(column - Math.Round(column));
                across[at] = (float)(row - Math.Round(row));
            }

            return new ReadingMap(values, Rows, columns);
        }
    }
}
