using DeflectScan.Tracing.Reading;

namespace DeflectScan.Tests.Tracing.Reading;

/// <summary>How a reading compares with what its strip shows, before anything is decoded.</summary>
/// <param name="Missed">Rings without a place of even odds near them.</param>
/// <param name="Invented">Places of even odds that are no ring.</param>
/// <param name="StationErrorsMm">Of the rings found.</param>
/// <param name="HeightErrorsMm">Of the rings found.</param>
/// <param name="SideRight">Whether the side is read rightly.</param>
internal sealed record StripScore(
    int Missed, int Invented, IReadOnlyList<double> StationErrorsMm, IReadOnlyList<double> HeightErrorsMm, bool SideRight)
{
    /// <summary>A place farther than this from a ring is another place, mm: half of what two guides keep apart.</summary>
    private const double NearMm = 12;

    /// <summary>So near to the tip-top's ring, and beyond it, no guide stands: the decoder does not look there either, mm.</summary>
    private const double TipMm = 22;

    public static StripScore Of(FixedStrip strip, StripReading reading)
    {
        List<(double Station, double Height)> open = [.. strip.Rings.Select(r => (strip.Frame.Station(r[0]), StripFrame.Height(r[1])))];
        double first = strip.Frame.Station(strip.Tip[0]) + TipMm;
        List<double> along = [];
        List<double> across = [];
        int invented = 0;
        foreach (RingCandidate place in Places(reading, reading.Ring).Where(p => p.Station > first))
        {
            int near = open.FindIndex(r => Math.Abs(r.Station - place.Station) < NearMm && Math.Abs(r.Height - place.HeightMm) < NearMm);
            if (near < 0)
            {
                invented++;
                continue;
            }

            along.Add(Math.Abs(open[near].Station - place.Station));
            across.Add(Math.Abs(open[near].Height - place.HeightMm));
            open.RemoveAt(near);
        }

        return new StripScore(
            open.Count,
            invented,
            along,
            across,
            reading.InsideLogOdds > 0 == strip.Inside);
    }

    // Even odds by the network's own figure, whatever is made of it later: the cell beside the place is asked.
    private static IEnumerable<RingCandidate> Places(StripReading reading, ReadingMap map) =>
        Peaks.Of(reading, map, float.MinValue).Where(p => Highest(reading, map, p) >= 0);

    private static float Highest(StripReading reading, ReadingMap map, RingCandidate place)
    {
        int row = (int)((StripFrame.RowOf(place.HeightMm) + 0.5) / StripReading.CellRows);
        int column = (int)((reading.Frame.ColumnOf(place.Station) + 0.5) / StripReading.CellColumns);
        float most = float.MinValue;
        for (int r = Math.Max(0, row - 1); r <= Math.Min(map.Rows - 1, row + 1); r++)
        {
            for (int c = Math.Max(0, column - 1); c <= Math.Min(map.Columns - 1, column + 1); c++)
                most = Math.Max(most, map[r, c]);
        }

        return most;
    }
}
