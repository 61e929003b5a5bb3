namespace DeflectScan.Proving;

/// <summary>
/// Numbers that do not belong together: from some guide on the readings are of the photo's next guide, or of the one before. Nothing is fitted, so there is no
/// penalty but that of the many places where it may begin. A gap that the photo then has no figure for counts as not known.
/// </summary>
internal static class CountCauses
{
    public static IEnumerable<Candidate> Of(ReadingsModel model, PhotoFigures photo, IReadOnlyList<HandReading> readings)
    {
        int n = photo.Guides;
        int ways = Math.Max(1, 2 * (n - 1));
        int highest = readings.Max(r => Math.Max(r.From, r.To ?? 0));
        for (int j = 1; j < n; j++)
        {
            int at = j;
            if (highest < n && highest >= at && ReadingsModel.Of(photo, readings, g => g >= at ? g + 1 : g) is { } more)
            {
                yield return new Candidate(
                    more.LogDensity - model.LogDensity - Math.Log(ways), more.ChiSquare, at, null,
                    () => $"From guide {at} on the readings fit the photo's next guide: the photo counts one ring twice there, or a guide was passed over at the rod.",
                    () => $"Count the guides on the rod and on the overlay, about guide {at}; where the photo has one too many, measure it again with the right number.")
                { Which = $"guide {at}" };
            }

            if (highest > at && ReadingsModel.Of(photo, readings, g => g > at ? g - 1 : g) is { } fewer)
            {
                yield return new Candidate(
                    fewer.LogDensity - model.LogDensity - Math.Log(ways), fewer.ChiSquare, at, null,
                    () => $"Beyond guide {at} the readings fit the photo's guide before: a guide was counted twice at the rod, or the photo passes one over there.",
                    () => $"Count the guides on the rod and on the overlay, about guide {at}; where the photo lacks one, measure it again with the right number.")
                { Which = $"guide {at}" };
            }
        }
    }
}
