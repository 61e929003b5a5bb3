namespace DeflectScan.Reporting.Sheets;

/// <summary>What a layout must fulfil before it is printed.</summary>
public static class SheetChecks
{
    /// <exception cref="ArgumentException">No guide, or a station that is negative, not a number or beyond the blank.</exception>
    internal static void Check(SheetLayout layout)
    {
        if (Problem(layout) is { } problem)
            throw new ArgumentException($"The layout cannot be printed: {problem}.", nameof(layout));
    }

    /// <summary>Room along the blank that a guide's feet take, mm: common practice, no source.</summary>
    public const double FeetMm = 30;

    /// <summary>Guides that stand nearer to each other than their feet are long, as one sentence; null where there are none. The tip-top has no feet.</summary>
    public static string? Crowded(SheetLayout layout)
    {
        SheetGuide[] guides = [.. layout.Guides.Where(g => g.FromTipMm > 0).OrderByDescending(g => g.FromTipMm)];
        string[] pairs = [.. guides.Zip(guides.Skip(1)).Where(p => p.First.FromTipMm - p.Second.FromTipMm < FeetMm).Select(p => $"guides {p.First.Label} and {p.Second.Label}")];
        if (pairs.Length == 0)
            return null;
        string all = pairs.Length == 1 ? pairs[0] : $"{string.Join(", ", pairs[..^1])} and {pairs[^1]}";
        return FormattableString.Invariant($"{char.ToUpperInvariant(all[0])}{all[1..]} stand nearer to each other than their feet are long (about {FeetMm:0} mm; common practice, no source): both cannot be wrapped there.");
    }

    /// <summary>The first thing wrong, without a full stop; null where nothing is.</summary>
    internal static string? Problem(SheetLayout layout)
    {
        if (layout.Guides.Count == 0)
            return "it needs at least one guide";
        if (!(layout.BlankLengthMm is > 0 and < 20000))
            return "the blank's length must be more than 0 and less than 20 000 mm";
        SheetGuide? off = layout.Guides.FirstOrDefault(g => !(g.FromTipMm >= 0 && g.FromTipMm <= layout.BlankLengthMm));
        return off is null ? null : $"guide {off.Label} stands {off.FromTipMm:0.#} mm from the tip, which is not on the blank";
    }
}
