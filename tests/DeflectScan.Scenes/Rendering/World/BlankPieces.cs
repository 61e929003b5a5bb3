namespace DeflectScan.Scenes.Rendering.World;

/// <summary>
/// Where holders, spare pieces and decorations lie. Tubing sits on the outer part of each foot, thread over the whole of it (common
/// practice, no source); spare pieces and decorations keep clear of the guides' feet and rings.
/// </summary>
public static class BlankPieces
{
    public static IReadOnlyList<BlankPiece> Of(SceneOptions o, BuildOptions b, BentBlank blank, IReadOnlyList<RingGate> gates)
    {
        Random r = new(unchecked((o.Seed * 45007) + 71));
        List<BlankPiece> all = [];
        string kind = b.Holder.ToString().ToLowerInvariant();
        List<(double From, double To)> taken = [(0, o.VisibleFromMm + 12), (blank.LengthMm - 45, blank.LengthMm + 100)];
        for (int i = 0; i < gates.Count - 1; i++)
        {
            GuidePlan plan = gates[i].Stance!.Plan;
            foreach ((double from, double to) in plan.Feet)
            {
                double length = b.HolderMm * (0.85 + (0.3 * r.NextDouble()));
                double a = plan.StationMm + from;
                double z = plan.StationMm + to;
                bool backwards = from + to < 0;
                if (b.Holder is HolderKind.Thread)
                    (a, z) = (a - (backwards ? 3 : 0), z + (backwards ? 0 : 3));
                else if (backwards)
                    (a, z) = Around(a + (0.4 * (z - a)), length);
                else
                    (a, z) = Around(a + (0.6 * (z - a)), length);
                all.Add(new BlankPiece("holder", kind, a, z, b.HolderThickMm * (0.9 + (0.2 * r.NextDouble())), i + 1));
            }

            double low = plan.Feet.Min(f => f.From);
            double high = Math.Max(plan.Feet.Max(f => f.To), 0);
            taken.Add((plan.StationMm + low - 14, plan.StationMm + high + 14));
        }

        if (b.FerruleAt is { } at && Free(at * blank.LengthMm, 40) is { } ferrule)
            all.Add(new BlankPiece("ferrule", "ring", ferrule, ferrule + 40, 0.5 + (0.5 * r.NextDouble()), null));
        for (int i = 0; i < b.Decorations; i++)
        {
            double length = r.NextDouble() < 0.5 ? 8 + (12 * r.NextDouble()) : 20 + (50 * r.NextDouble());
            if (Free(Anywhere(0.45), length) is { } s)
                all.Add(new BlankPiece("decoration", r.Next(3) switch { 0 => "ring", 1 => "label", _ => "thread" }, s, s + length, 0.1 + (0.4 * r.NextDouble()), null));
        }

        for (int i = 0; i < b.Spares; i++)
        {
            double length = b.HolderMm * (0.8 + (0.4 * r.NextDouble()));
            if (Free(Anywhere(1), length) is { } s)
                all.Add(new BlankPiece("spare", b.Holder is HolderKind.Thread ? "tubing" : kind, s, s + length, b.HolderThickMm * (0.85 + (0.3 * r.NextDouble())), null));
        }

        if (b.HookKeeper && Free(o.VisibleFromMm + 15 + (40 * r.NextDouble()), 12) is { } keeper)
            all.Add(new BlankPiece("hook-keeper", "wire", keeper, keeper + 12, 0.4, null));
        return all;

        double Anywhere(double share) => o.VisibleFromMm + 20 + (share * (blank.LengthMm - o.VisibleFromMm - 80) * r.NextDouble());

        double? Free(double from, double length)
        {
            for (double s = from; s < blank.LengthMm - 60; s += 8)
            {
                if (taken.TrueForAll(t => s + length < t.From || s > t.To))
                {
                    taken.Add((s - 4, s + length + 4));
                    return s;
                }
            }

            return null;
        }

        static (double From, double To) Around(double middle, double length) => (middle - (length / 2), middle + (length / 2));
    }
}
