using DeflectScan.Geometry;

namespace DeflectScan.Bending;

/// <summary>Photos of one set-up in which cards and clamp were left alone: the cards tell how each photo's frame lies in the others'.</summary>
internal static class SharedSetup
{
    /// <summary>
    /// Straight down in each photo's rod plane, the same direction in the world: from the first that saw the line hang (from none, down as the first photo
    /// shows it), turned by what the cards are turned. Null where a photo shares no card with the first.
    /// </summary>
    public static IReadOnlyList<Vec2>? Downs(IReadOnlyList<Measurement> photos)
    {
        double[] turned = new double[photos.Count];
        for (int i = 1; i < photos.Count; i++)
        {
            if (Turned(photos[0], photos[i]) is not { } deg)
                return null;
            turned[i] = deg;
        }

        int plumb = Math.Max(0, photos.ToList().FindIndex(m => m.Pull?.PlumbDeg is not null));
        double down = (photos[plumb].Pull?.PlumbDeg ?? -90) - turned[plumb];
        return [.. turned.Select(t => Unit(down + t))];
    }

    // How far one photo's cards are turned against the other's, degrees: the mean over the cards that both show.
    private static double? Turned(Measurement a, Measurement b)
    {
        Vec2 sum = default;
        int shared = 0;
        foreach (CardReport card in a.Calibration?.Cards ?? [])
        {
            double? there = b.Calibration?.Cards.FirstOrDefault(c => c.Letter == card.Letter)?.TurnDeg;
            if (card.TurnDeg is not { } here || there is null)
                continue;
            sum += Unit(there.Value - here);
            shared++;
        }

        return shared == 0 ? null : Math.Atan2(sum.Y, sum.X) * 180 / Math.PI;
    }

    private static Vec2 Unit(double deg) => new(Math.Cos(deg * Math.PI / 180), Math.Sin(deg * Math.PI / 180));
}
