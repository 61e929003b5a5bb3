using DeflectScan.Findings;
using DeflectScan.Tracing.Reading;

namespace DeflectScan.Tracing.Rings;

/// <summary>
/// Whether the rings in use are the rod's guides: what was read, joined with what the line says by turning or not. One finding a cause, with its places.
/// </summary>
internal static class RingDoubts
{
    /// <summary>
    /// Least probability that count and side are right from which on no review is asked for. By reading alone, the curve of one half of 321 scenes said of 2 712
    /// places of the other half that they are rings at 0.98 or more, and all but two were (docs/reader.md).
    /// </summary>
    public const double Sure = 0.995;

    /// <summary>The same where a person counted as many guides as were read: both are seldom wrong alike (chosen).</summary>
    private const double SureWhenCounted = 0.9;

    /// <summary>A place that is this sure or surer by itself is not pointed at.</summary>
    private const double Settled = 0.002;

    private const int MostPlacesNamed = 6;

    /// <summary>What a person should look at.</summary>
    /// <param name="choice">The rings in use.</param>
    /// <param name="sideIsTold">Whether a person said on which side the guides stand.</param>
    public static IEnumerable<Finding> Of(RingChoice choice, bool sideIsTold)
    {
        if (!sideIsTold && choice.Told.Count == 0 && choice.Decoded.SideProbability < Sure)
            yield return Finding.Review(FindingCode.GuidesUncertain, "It is uncertain on which side of the blank the guides stand: say which and check the rings.") with { IsOfSide = true };
        if (choice.IsComplete)
            yield break;
        if (choice.Decoded.TipIsGuide > 1 - Sure && choice.Places[0].Source != Source.Marked)
            yield return Finding.Review(FindingCode.GuidesUncertain, "What was taken for the tip-top may be a guide: look whether the blank goes on beyond it, and mark the tip.") with { Places = [FindingPlace.At(0)] };
        List<(double Station, double Right)> places = [];
        WeighedPlace[] used = [.. choice.Decoded.Places.Where(p => p.InUse)];
        foreach (WeighedPlace place in choice.Decoded.Places.Where(p => choice.Told.All(t => Math.Abs(t - p.Place.Station) > SameRing.WithinMm)))
        {
            // Of two places so near only one can be a guide: that the other is none follows from the one in use, and is not asked twice.
            if (place.InUse)
                places.Add((place.Place.Station, place.Probability));
            else if (used.All(u => Math.Abs(u.Place.Station - place.Place.Station) >= RingDecoder.ClosestMm))
                places.Add((place.Place.Station, 1 - place.Probability));
        }

        if (places.Aggregate(1.0, (product, p) => product * p.Right) >= (choice.IsCounted ? SureWhenCounted : Sure))
            yield break;
        double[] open = [.. places.OrderBy(p => p.Right).Where((p, i) => i == 0 || p.Right < 1 - Settled).Take(MostPlacesNamed).Select(p => p.Station).Order()];
        if (open.Length > 0)
        {
            yield return Finding.Review(
                FindingCode.GuidesUncertain,
                $"It is uncertain whether a guide stands {string.Join(", ", open.Select(s => $"{Math.Max(0, s):0}"))} mm from the tip: look there and mark the rings if need be.") with { Places = [.. open.Select(FindingPlace.At)] };
        }
    }
}
