using DeflectScan.Findings;
using DeflectScan.Geometry;
using DeflectScan.Tracing.Rings;

namespace DeflectScan.Web.Words;

/// <summary>A place that a finding points at.</summary>
/// <param name="Number">Its number on the pins, from 1.</param>
/// <param name="StationMm">From the tip, along the blank.</param>
/// <param name="Px">On the photo: of the ring, or of the blank where no ring stands.</param>
/// <param name="Guide">The guide that stands there as measured; null where none does.</param>
internal sealed record Place(int Number, double StationMm, Vec2 Px, int? Guide);

/// <summary>One cause and its places; what stands in the page's short list.</summary>
internal sealed record PlacedFinding(string Code, string Severity, string Message, IReadOnlyList<Place> Places);

/// <summary>
/// Where findings are: the document says it. One finding a cause, with the numbers of its pins. A finding that asks for a look and has no place of its own
/// gets none.
/// </summary>
internal static class FindingPlaces
{
    /// <param name="m">What was measured.</param>
    /// <param name="openMm">Stations put up as doubtful before a correction that have not been answered since.</param>
    /// <param name="unit">Unit of the sentences.</param>
    public static IReadOnlyList<PlacedFinding> Of(Measurement m, IReadOnlyList<double> openMm, LengthUnit unit)
    {
        List<PlacedFinding> all = [];
        int number = 0;
        IEnumerable<Finding> ordered = m.Findings.OrderByDescending(f => f.Severity);
        double[] named = [.. m.Findings.SelectMany(Stations)];
        double[] left = [.. openMm.Where(s => named.All(n => Math.Abs(n - s) > SameRing.WithinMm))];
        if (left.Length > 0)
            ordered = [Finding.Review(FindingCode.GuidesUncertain, Doubtful(left)) with { Places = [.. left.Select(FindingPlace.At)] }, .. ordered];
        foreach (Finding f in InShort.Of(ordered))
        {
            Place[] places = m.Blank is { Axis.Count: > 1 }
                ? [.. Stations(f).Select(s => At(m, s, ++number))]
                : [];
            all.Add(new PlacedFinding(f.CodeText, f.Severity.ToString().ToLowerInvariant(), PageWords.Of(f.Message, unit), places));
        }

        return all;
    }

    /// <summary>
    /// Stations of which it is open whether, or where, a guide stands: those of the findings about guides. Complete marks answer them all for the library;
    /// the page asks for each.
    /// </summary>
    public static IReadOnlyList<double> Doubts(Measurement m) => [.. m.Findings.Where(f => f.Code == FindingCode.GuidesUncertain).SelectMany(Stations).Distinct().Order()];

    private static IEnumerable<double> Stations(Finding f) => f.Severity == Findings.Severity.Review ? f.Places.Select(p => p.MiddleMm) : [];

    private static string Doubtful(IReadOnlyList<double> stations) =>
        $"It is uncertain whether a guide stands {string.Join(", ", stations.Select(s => $"{s:0}"))} mm from the tip: look there and say so.";

    private static Place At(Measurement m, double station, int number)
    {
        GuideReport? guide = m.Guides.Where(g => Math.Abs(g.StationMm - station) <= SameRing.WithinMm).MinBy(g => Math.Abs(g.StationMm - station));
        AxisSample nearest = m.Blank!.Axis.MinBy(a => Math.Abs(a.SMm - station))!;
        return new Place(number, station, guide?.RingPx ?? nearest.Px, guide?.Index);
    }
}
