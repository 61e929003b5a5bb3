using DeflectScan.Geometry;

namespace DeflectScan.Tracing.Line;

/// <summary>
/// Finds the ring of a guide where it meets the line, for a guide at which the line does not turn: just below the line, on the blank's
/// side, nothing but a ring or its frame stands.
/// </summary>
internal static class RingOnLine
{
    /// <summary>How far from its wrap a guide's ring may stand along the blank, mm.</summary>
    private const double ReachMm = 45;

    /// <summary>The heights below the line that are looked at, mm: past the line's own width, within the ring.</summary>
    private const double NearestMm = 1.5;
    private const double FarthestMm = 7;

    /// <summary>Longest piece of the blank over which a ring seen from its side may lie, mm.</summary>
    private const double LongestMm = 14;

    /// <summary>Beside the columns that stand out these count too, mm.</summary>
    private const double MarginMm = 3;

    /// <summary>A ring leans by no more than about 45 degrees: from the middle of the part nearer the line to the line, mm.</summary>
    private const double MostLeanMm = 4;

    private const float Stands = 0.5f;
    private const double LeftShare = 0.5;

    /// <summary>Station of the ring point near a wrap; null where no ring, or more than one, is seen there.</summary>
    /// <param name="map">What stands out in the band.</param>
    /// <param name="cleared">The same, what crosses behind the blank taken out.</param>
    /// <param name="wrapStation">Where something is wound on the blank.</param>
    /// <param name="heightAt">Height of the line at a station, mm.</param>
    public static double? Find(ForegroundMap map, ForegroundMap cleared, double wrapStation, Func<double, double> heightAt)
    {
        BandStrip strip = map.Strip;
        int from = Math.Max(0, (int)strip.ColumnOf(wrapStation - ReachMm));
        int to = Math.Min(strip.Columns - 1, (int)strip.ColumnOf(wrapStation + ReachMm));
        int first = -1;
        int last = -1;
        for (int c = from; c <= to; c++)
        {
            double height = heightAt(strip.Station(c));
            (double sum, int rows) = Sum(map, c, height - FarthestMm, height - NearestMm);
            if (rows == 0 || sum / rows < Stands)
                continue;
            first = first < 0 ? c : first;
            last = c;
        }

        if (first < 0 || (last - first) * strip.StepMm > LongestMm || !IsOwn(cleared, first, last, heightAt))
            return null;

        // The ring leans: from the centres of the part farther from the line and of the part nearer to it, on to the line.
        double middle = (NearestMm + FarthestMm) / 2;
        double? far = Centre(map, first, last, heightAt, FarthestMm, middle);
        double? near = Centre(map, first, last, heightAt, middle, NearestMm);
        if (far is null || near is null)
            return null;
        double lean = (near.Value - far.Value) * (NearestMm + ((middle - NearestMm) / 2)) / (middle - NearestMm);
        return Math.Abs(lean) * strip.StepMm > MostLeanMm ? null : strip.Station(near.Value + lean);
    }

    /// <summary>Whether enough of it stays where crossings are taken out; before a busy wall part of a guide goes with them.</summary>
    private static bool IsOwn(ForegroundMap cleared, int first, int last, Func<double, double> heightAt)
    {
        for (int c = first; c <= last; c++)
        {
            double height = heightAt(cleared.Strip.Station(c));
            (double sum, int rows) = Sum(cleared, c, height - FarthestMm, height - NearestMm);
            if (sum > LeftShare * Stands * rows)
                return true;
        }

        return false;
    }

    private static double? Centre(ForegroundMap map, int first, int last, Func<double, double> heightAt, double fromBelowMm, double toBelowMm)
    {
        double sum = 0;
        double moment = 0;
        int margin = (int)Math.Ceiling(MarginMm / map.Strip.StepMm);
        for (int c = Math.Max(0, first - margin); c <= Math.Min(map.Strip.Columns - 1, last + margin); c++)
        {
            double height = heightAt(map.Strip.Station(c));
            double one = Sum(map, c, height - fromBelowMm, height - toBelowMm).Sum;
            sum += one;
            moment += one * c;
        }

        return sum > 0 ? moment / sum : null;
    }

    private static (double Sum, int Rows) Sum(ForegroundMap map, int column, double fromHeight, double toHeight)
    {
        int low = Math.Max(0, (int)Math.Round(map.RowOf(fromHeight)));
        int high = Math.Min(map.Rows - 1, (int)Math.Round(map.RowOf(toHeight)));
        ReadOnlySpan<float> values = map.Column(column);
        double sum = 0;
        for (int row = low; row <= high; row++)
            sum += values[row];
        return (sum, Math.Max(0, high - low + 1));
    }
}
