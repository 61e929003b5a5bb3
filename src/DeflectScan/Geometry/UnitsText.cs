namespace DeflectScan.Geometry;

/// <summary>The unit that lengths are shown in first.</summary>
public enum LengthUnit
{
    Millimetres,
    Inches,
}

/// <summary>Lengths as a builder reads them: millimetres, decimal inches, and inches with sixteenths (no feet).</summary>
public static class UnitsText
{
    /// <summary>Exactly, by definition (international inch of 1959).</summary>
    public const double MmPerInch = 25.4;

    /// <summary>"402.0 mm".</summary>
    public static string Millimetres(double mm, int decimals = 1) => $"{Rounded(mm, decimals)} mm";

    /// <summary>"15.83 in".</summary>
    public static string DecimalInches(double mm, int decimals = 2) => $"{Rounded(mm / MmPerInch, decimals)} in";

    /// <summary>Inches to the nearest sixteenth, in lowest terms: "15 13/16 in", "7/8 in", "0 in"; halves go away from zero.</summary>
    public static string Sixteenths(double mm)
    {
        long sixteenths = (long)Math.Round(Math.Abs(mm) / MmPerInch * 16, MidpointRounding.AwayFromZero);
        string sign = mm < 0 && sixteenths > 0 ? "-" : "";
        (long whole, long part) = Math.DivRem(sixteenths, 16);
        if (part == 0)
            return $"{sign}{whole} in";
        long divisor = part % 8 == 0 ? 8 : part % 4 == 0 ? 4 : part % 2 == 0 ? 2 : 1;
        string fraction = $"{part / divisor}/{16 / divisor}";
        return whole == 0 ? $"{sign}{fraction} in" : $"{sign}{whole} {fraction} in";
    }

    /// <summary>In the unit asked for, then the other: "402.0 mm (15.83 in, 15 13/16 in)".</summary>
    public static string Both(double mm, LengthUnit first) => first == LengthUnit.Millimetres
        ? $"{Millimetres(mm)} ({DecimalInches(mm)}, {Sixteenths(mm)})"
        : $"{DecimalInches(mm)}, {Sixteenths(mm)} ({Millimetres(mm)})";

    /// <summary>
    /// An uncertainty rounded up to a whole multiple of the last place that is shown, in its own unit: a figure is never shown as more certain than it is.
    /// </summary>
    public static double RoundedUp(double uncertainty, double lastPlace) => Math.Ceiling((uncertainty / lastPlace) - 1e-9) * lastPlace;

    private static string Rounded(double value, int decimals)
    {
        double rounded = Math.Round(value, decimals, MidpointRounding.AwayFromZero);
        return (rounded == 0 ? 0 : rounded).ToString($"F{decimals}");
    }
}
