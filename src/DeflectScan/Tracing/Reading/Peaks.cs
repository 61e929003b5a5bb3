namespace DeflectScan.Tracing.Reading;

/// <summary>The places at which a map of the network is highest among its neighbours.</summary>
internal static class Peaks
{
    /// <summary>Two contacts are never nearer to each other than this, cells each way: guides stand on feet longer than that.</summary>
    private const int ApartColumns = 3;
    private const int ApartRows = 5;

    /// <summary>
    /// What a network trained on peaks that stand out from their neighbours says is no probability: logistic regression (Platt 1999, from memory) over the
    /// 1 093 rings and 6 600 other peaks of 130 scenes that were not trained on, docs/reader.md.
    /// </summary>
    private const double CalibratedOffset = 1.83;
    private const double CalibratedSlope = 3.24;

    /// <summary>The same for rings, from the peak's log-odds and the logarithm of the sum of probabilities of the 5 by 5 cells about it.</summary>
    private const double RingOffset = 5.68;
    private const double RingMassSlope = -2.755;
    private const double RingSlope = 5.06;
    private const int MassReach = 2;

    /// <summary>All places that may be rings, the surest first, with their calibrated log-odds.</summary>
    /// <param name="reading">What the network says.</param>
    /// <param name="leastLogOdds">Calibrated.</param>
    public static List<RingCandidate> Rings(StripReading reading, double leastLogOdds) =>
    [
        .. Of(reading, reading.Ring, leastLogOdds - RingOffset)
            .Select(p => p with { LogOdds = RingOffset + (RingMassSlope * Math.Log(Mass(reading, p))) + (RingSlope * (p.LogOdds - CalibratedOffset) / CalibratedSlope) })
            .Where(p => p.LogOdds >= leastLogOdds)
            .OrderByDescending(p => p.LogOdds),
    ];

    private static double Mass(StripReading reading, RingCandidate peak)
    {
        int row = (int)Math.Round(((StripFrame.RowOf(peak.HeightMm) + 0.5) / StripReading.CellRows) - 0.5);
        int column = (int)Math.Round(((reading.Frame.ColumnOf(peak.Station) + 0.5) / StripReading.CellColumns) - 0.5);
        double mass = 1e-6;
        for (int r = Math.Max(0, row - MassReach); r <= Math.Min(reading.Ring.Rows - 1, row + MassReach); r++)
        {
            for (int c = Math.Max(0, column - MassReach); c <= Math.Min(reading.Ring.Columns - 1, column + MassReach); c++)
                mass += 1 / (1 + Math.Exp(-reading.Ring[r, c]));
        }

        return mass;
    }

    /// <summary>All peaks of a map at or above some log-odds, the surest first.</summary>
    /// <param name="reading">Where in a cell a contact lies.</param>
    /// <param name="map">Ring, tip or reel.</param>
    /// <param name="leastLogOdds">Log-odds, calibrated.</param>
    public static List<RingCandidate> Of(StripReading reading, ReadingMap map, double leastLogOdds)
    {
        double least = (leastLogOdds - CalibratedOffset) / CalibratedSlope;
        List<(int Row, int Column)> cells = [];
        for (int r = 0; r < map.Rows; r++)
        {
            for (int c = 0; c < map.Columns; c++)
            {
                if (map[r, c] >= least && IsHighest(map, r, c))
                    cells.Add((r, c));
            }
        }

        return [.. cells.Select(cell => At(reading, map, cell.Row, cell.Column)).OrderByDescending(p => p.LogOdds)];
    }

    private static bool IsHighest(ReadingMap map, int row, int column)
    {
        float here = map[row, column];
        for (int r = Math.Max(0, row - ApartRows); r <= Math.Min(map.Rows - 1, row + ApartRows); r++)
        {
            for (int c = Math.Max(0, column - ApartColumns); c <= Math.Min(map.Columns - 1, column + ApartColumns); c++)
            {
                float there = map[r, c];
                if (there > here || (there == here && (r, c).CompareTo((row, column)) < 0))
                    return false;
            }
        }

        return true;
    }

    // Every cell about a peak says by itself where the contact lies: their mean, weighed by how sure each is that it is near one.
    private static RingCandidate At(StripReading reading, ReadingMap map, int row, int column)
    {
        double weights = 0;
        double x = 0;
        double y = 0;
        for (int r = Math.Max(0, row - 1); r <= Math.Min(map.Rows - 1, row + 1); r++)
        {
            for (int c = Math.Max(0, column - 1); c <= Math.Min(map.Columns - 1, column + 1); c++)
            {
                double weight = 1 / (1 + Math.Exp(-map[r, c]));
                weights += weight;
                x += weight * (c + reading.AlongCells[r, c]);
                y += weight * (r + reading.AcrossCells[r, c]);
            }
        }

        double px = ((x / weights + 0.5) * StripReading.CellColumns) - 0.5;
        double py = ((y / weights + 0.5) * StripReading.CellRows) - 0.5;
        return new RingCandidate(reading.Frame.Station(px), StripFrame.Height(py), CalibratedOffset + (CalibratedSlope * map[row, column]));
    }
}
