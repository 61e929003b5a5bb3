using DeflectScan.Photos;

namespace DeflectScan.Calibration.Cards;

/// <summary>
/// Finds the scale cards in a photo: markers say which card stands where, the chessboard's inner corners are then measured on the
/// full picture (see <see cref="CardSighting"/>). Cards may be turned, partly hidden and small.
/// </summary>
public static class CardFinder
{
    /// <summary>All cards found, by letter; empty when there is none. Two prints of one letter give two sightings.</summary>
    public static IReadOnlyList<CardSighting> Find(UprightPhoto photo, CardOptions? options = null)
    {
        options ??= CardOptions.Default;
        List<CardSighting> cards = [];
        foreach (IGrouping<char, SeenMarker> letter in MarkerSearch.Find(photo.Grey, options).GroupBy(m => ScaleCard.Locate(m.Id)!.Value.Letter).OrderBy(g => g.Key))
        {
            foreach (IReadOnlyList<SeenMarker> group in MarkerGroups.Split([.. letter]))
            {
                if (CardMeasurer.Measure(photo.Grey, letter.Key, group, options) is { } card)
                    cards.Add(card);
            }
        }

        return cards;
    }
}
