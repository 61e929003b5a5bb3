namespace DeflectScan.Reporting.Sheets;

/// <summary>What a layout must fulfil before it is printed.</summary>
internal static class SheetChecks
{
    /// <exception cref="ArgumentException">No guide, or a station that is negative, not a number or beyond the blank.</exception>
    public static void Check(SheetLayout layout)
    {
        if (Problem(layout) is { } problem)
            throw new ArgumentException($"The layout cannot be printed: {problem}.", nameof(layout));
    }

    /// <summary>The first thing wrong, without a full stop; null where nothing is.</summary>
    public static string? Problem(SheetLayout layout)
    {
        if (layout.Guides.Count == 0)
            return "it needs at least one guide";
        if (!(layout.BlankLengthMm is > 0 and < 20000))
            return "the blank's length must be more than 0 and less than 20 000 mm";
        SheetGuide? off = layout.Guides.FirstOrDefault(g => !(g.FromTipMm >= 0 && g.FromTipMm <= layout.BlankLengthMm));
        return off is null ? null : $"guide {off.Label} stands {off.FromTipMm:0.#} mm from the tip, which is not on the blank";
    }
}
