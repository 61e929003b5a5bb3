using DeflectScan.Numerics;

namespace DeflectScan.Proving;

/// <summary>
/// Readings of one and the same thing put together: their mean; what is stated of one reading stays (a tape's own fault is in all of them) and the mean's
/// scatter is added in squares, with Student's factor for so few (JCGM 100:2008, 4.2.3 and G.3).
/// </summary>
internal static class RepeatedReadings
{
    public static IReadOnlyList<HandReading> Together(IEnumerable<HandReading> readings) =>
        [.. readings.GroupBy(r => (r.Kind, Low(r), High(r))).Select(g => Mean([.. g]))];

    private static int Low(HandReading r) => r.To is { } to ? Math.Min(r.From, to) : r.From;

    private static int High(HandReading r) => r.To is { } to ? Math.Max(r.From, to) : int.MaxValue;

    private static HandReading Mean(HandReading[] same)
    {
        HandReading first = same[0] with { From = Low(same[0]), To = same[0].To is null ? null : High(same[0]) };
        if (same.Length == 1)
            return first;
        double mean = same.Average(r => r.Mm);
        double sdOfMean = Math.Sqrt(same.Sum(r => (r.Mm - mean) * (r.Mm - mean)) / (same.Length - 1) / same.Length);
        double scatter = StudentFactor.Of(same.Length - 1) * sdOfMean;
        double stated = same.Max(r => r.UncertaintyMm);
        return first with { Mm = mean, UncertaintyMm = Math.Sqrt((stated * stated) + (scatter * scatter)) };
    }
}
