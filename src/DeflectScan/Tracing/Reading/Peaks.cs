namespace DeflectScan.Tracing.Reading;

/// <summary>The places at which a map of the network is highest among its neighbours.</summary>
internal static class Peaks
{
    /// <summary>Two contacts are never nearer to each other than this, cells each way: guides stand on feet longer than that.</summary>
    private const int ApartColumns = 3;
    private const int ApartRows = 5;

    /// <summary>
    /// What a network trained on peaks that stand out from their neighbours says is no probability: logistic regression (Platt 1999, from memory) over the
    /// 2 757 rings and 42 932 other peaks of 321 scenes that were not trained on, docs/reader.md.
    /// </summary>
    private const double CalibratedOffset = 2.37;
    private const double CalibratedSlope = 3.57;

    /// <summary>The same of what <see cref="SecondLook"/> makes of those scenes.</summary>
    private const double SecondOffset = 3.42;
    private const double SecondSlope = 3.87;

    /// <summary>All peaks of a map at or above some log-odds, the surest first.</summary>
    /// <param name="reading">Where in a cell a contact lies.</param>
    /// <param name="map">Ring or tip.</param>
    /// <param name="leastLogOdds">Log-odds, calibrated.</param>
    public static List<RingCandidate> Of(StripReading reading, ReadingMap map, double leastLogOdds)
    {
        List<(int Row, int Column)> cells = [];
        for (int r = 0; r < map.Rows; r++)
        {
            for (int c = 0; c < map.Columns; c++)
            {
                if (Calibrated(reading, map[r, c]) >= leastLogOdds && IsHighest(map, r, c))
                    cells.Add((r, c));
            }
        }

        return [.. cells.Select(cell => At(reading, map, cell.Row, cell.Column)).OrderByDescending(p => p.LogOdds)];
    }

    private static double Calibrated(StripReading reading, double own) =>
        reading.IsSecond ? SecondOffset + (SecondSlope * own) : CalibratedOffset + (CalibratedSlope * own);

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
        return new RingCandidate(reading.Frame.Station(px), StripFrame.Height(py), Calibrated(reading, map[row, column]));
    }
}
