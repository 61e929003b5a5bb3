namespace DeflectScan.Reporting.Sheets;

/// <summary>What a layout must fulfil before it is printed.</summary>
internal static class SheetChecks
{
    /// <exception cref="ArgumentException">No guide, or a station that is negative, not a number or beyond the blank.</exception>
    public static void Check(SheetLayout layout)
    {
        if (layout.Guides.Count == 0)
            throw new ArgumentException("A sheet needs at least one guide.", nameof(layout));
        if (!(layout.BlankLengthMm is > 0 and < 20000))
            throw new ArgumentException("The blank's length must be more than 0 and less than 20 000 mm.", nameof(layout));
        foreach (SheetGuide g in layout.Guides)
        {
            if (!(g.FromTipMm >= 0 && g.FromTipMm <= layout.BlankLengthMm))
                throw new ArgumentException($"Guide {g.Label} stands {g.FromTipMm:0.#} mm from the tip: that is not on the blank.", nameof(layout));
        }
    }
}
