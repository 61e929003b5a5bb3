using DeflectScan.Geometry;

namespace DeflectScan.Cli.Display;

/// <summary>How figures are spelt in tables and sentences.</summary>
internal sealed class Figures(LengthUnit unit)
{
    public bool InchesFirst => unit == LengthUnit.Inches;

    public string UnitName => InchesFirst ? "in" : "mm";

    /// <summary>A length without its unit, in the column's unit: tenths of a millimetre or hundredths of an inch.</summary>
    public string Bare(double mm) => Strip(InchesFirst ? UnitsText.DecimalInches(mm) : UnitsText.Millimetres(mm));

    /// <summary>"27.1 ±0.6" in the column's unit, the uncertainty rounded up.</summary>
    public string WithUncertainty(double mm, double uncertaintyMm)
    {
        double lastPlaceMm = InchesFirst ? 0.01 * UnitsText.MmPerInch : 0.1;
        return $"{Bare(mm)} ±{Bare(UnitsText.RoundedUp(uncertaintyMm, lastPlaceMm))}";
    }

    /// <summary>"27.1 ±0.6 mm".</summary>
    public string Sentence(double mm, double uncertaintyMm) => $"{WithUncertainty(mm, uncertaintyMm)} {UnitName}";

    /// <summary>"402.0 mm (15.83 in, 15 13/16 in)", or inches first.</summary>
    public string Full(double mm) => UnitsText.Both(mm, unit);

    public static string BareMm(double mm) => Strip(UnitsText.Millimetres(mm));

    public static string BareInches(double mm) => Strip(UnitsText.DecimalInches(mm));

    public static string BareSixteenths(double mm) => Strip(UnitsText.Sixteenths(mm));

    public static string Degrees(double? degrees) => degrees is { } d ? $"{d:0.0}°" : "–";

    private static string Strip(string withUnit) => withUnit[..withUnit.LastIndexOf(' ')];
}
