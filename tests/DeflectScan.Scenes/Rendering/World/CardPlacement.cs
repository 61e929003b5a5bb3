using DeflectScan.Geometry;

namespace DeflectScan.Scenes.Rendering.World;

/// <summary>Finds places for the cards: near the rod, clear of blank, line, cord and each other, spread over the bend.</summary>
public static class CardPlacement
{
    private const double Clear = 32;

    /// <param name="o">The scene.</param>
    /// <param name="rods">The rod at every load that the cards stand beside.</param>
    public static IReadOnlyList<CardStand> Of(SceneOptions o, IReadOnlyList<RodBuild> rods)
    {
        Random r = new(unchecked((o.Seed * 104729) + 3));
        List<Vec2> keepOff = [.. rods.SelectMany(Obstacles)];
        double left = keepOff.Min(p => p.X) - 120;
        double right = keepOff.Max(p => p.X) + 120;
        double top = keepOff.Max(p => p.Y) + 60;
        List<CardStand> cards = [];
        while (cards.Count < o.Cards)
        {
            CardStand? best = null;
            double bestRoom = -1;
            int found = 0;
            for (int i = 0; i < 20000 && found < 12; i++)
            {
                Vec2 centre = new(left + ((right - left) * r.NextDouble()), RodBuild.BenchY + 160 + ((top - RodBuild.BenchY - 160) * r.NextDouble()));
                double turn = (r.NextDouble() < 0.3 ? 90 : 0) + (24 * ((2 * r.NextDouble()) - 1));
                double z = cards.Count < o.CardZMm.Count ? o.CardZMm[cards.Count] : 0;
                CardStand card = CardStand.Centred(cards.Count, centre, z, turn);
                if (keepOff.Exists(p => Covers(card, p, Clear)) || cards.Exists(c => c.Centre.DistanceTo(centre) < 400) || BoardLow(card) < RodBuild.BenchY + 5)
                    continue;
                found++;
                double room = cards.Count == 0 ? r.NextDouble() : cards.Min(c => c.Centre.DistanceTo(centre));
                if (room > bestRoom)
                    (best, bestRoom) = (card, room);
            }

            if (best is null)
                break;
            cards.Add(best);
        }

        return cards;
    }

    private static double BoardLow(CardStand c) => new[] { c.At(-15, -23), c.At(195, -23), c.At(195, 275), c.At(-15, 275) }.Min(p => p.Y);

    private static bool Covers(CardStand card, Vec2 p, double margin)
    {
        Vec2 d = p - card.Centre;
        return Math.Abs(d.Dot(card.Across)) < 105 + margin && Math.Abs(d.Dot(card.Downwards)) < 149 + margin;
    }

    private static IEnumerable<Vec2> Obstacles(RodBuild rod)
    {
        for (double s = 0; s < rod.Blank.LengthMm; s += 12)
            yield return rod.Blank.Point(s);
        foreach (Vec2 p in (rod.Options.AtRest ? [] : Along(rod.Tip, rod.Anchor)).Concat(Along(rod.Contacts[^1], rod.HangsTo - new Vec2(0, 45))).Concat(Along(rod.Reel, rod.Contacts[0])))
            yield return p;
        for (int i = 1; i < rod.Contacts.Count; i++)
        {
            foreach (Vec2 p in Along(rod.Contacts[i - 1], rod.Contacts[i]))
                yield return p;
        }

        yield return rod.Reel;
        yield return rod.Reel + new Vec2(0, -60);
        foreach (Vec2 p in Along(rod.Blank.Point(95), new Vec2(rod.Blank.Point(95).X, RodBuild.BenchY)))
            yield return p;
    }

    private static IEnumerable<Vec2> Along(Vec2 a, Vec2 b)
    {
        int n = 1 + (int)(a.DistanceTo(b) / 12);
        return Enumerable.Range(0, n + 1).Select(i => Vec2.Lerp(a, b, i / (double)n));
    }
}
