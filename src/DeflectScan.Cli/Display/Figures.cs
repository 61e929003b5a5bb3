using DeflectScan.Cli.Running;
using DeflectScan.Geometry;

namespace DeflectScan.Cli.Display;

/// <summary>How figures are spelt in tables and sentences.</summary>
internal sealed class Figures(LengthUnit unit)
{
    public LengthUnit Unit => unit;

    public bool InchesFirst => unit == LengthUnit.Inches;

    /// <summary>The unit where a sentence says in which it is: "in mm", "in inches".</summary>
    public string UnitWord => InchesFirst ? "inches" : "mm";

    public string UnitName => InchesFirst ? "in" : "mm";

    /// <summary>A length without its unit, in the column's unit: tenths of a millimetre or hundredths of an inch.</summary>
    public string Bare(double mm) => Strip(InchesFirst ? UnitsText.DecimalInches(mm) : UnitsText.Millimetres(mm));

    public string? Bare(double? mm) => mm is { } value ? Bare(value) : null;

    /// <summary>Whole millimetres, or tenths of an inch: a blank's length in a list.</summary>
    public string? Whole(double? mm) => mm is not { } value ? null : InchesFirst ? $"{value / UnitsText.MmPerInch:0.0}" : $"{value:0}";

    /// <summary>"+12.3 ±0.6", and "(same)" where it is no sure change.</summary>
    public string? Change(double? mm, double? uncertaintyMm, bool isSure) =>
        mm is { } by ? $"{(by > 0 ? "+" : "")}{WithUncertainty(by, uncertaintyMm ?? 0)}{(isSure ? "" : " (same)")}" : null;

    /// <summary>"27.1 ±0.6" in the column's unit, the uncertainty rounded up.</summary>
    public string WithUncertainty(double mm, double uncertaintyMm)
    {
        double lastPlaceMm = InchesFirst ? 0.01 * UnitsText.MmPerInch : 0.1;
        return $"{Bare(mm)} ±{Bare(UnitsText.RoundedUp(uncertaintyMm, lastPlaceMm))}";
    }

    public string WithUncertainty(MeasuredLength length) => WithUncertainty(length.Mm, length.UncertaintyMm);

    /// <summary>"27.1 ±0.6 mm".</summary>
    public string Sentence(MeasuredLength length) => Sentence(length.Mm, length.UncertaintyMm);

    public string Sentence(double mm, double uncertaintyMm) => $"{WithUncertainty(mm, uncertaintyMm)} {UnitName}";

    /// <summary>"402.0 mm (15.83 in, 15 13/16 in)", or inches first.</summary>
    public string Full(double mm) => UnitsText.Both(mm, unit);

    /// <summary>A sentence of the library's, its lengths in the unit that is shown.</summary>
    public string InUnit(string sentence) => CommandWords.Of(sentence, unit);

    /// <summary>"18.5 N", and with inches first "18.5 N (4.2 lb)".</summary>
    public string Force(double newton) => InchesFirst ? $"{newton:0.0#} N ({ForceText.Pounds(newton):0.0#} lb)" : $"{newton:0.0#} N";

    public static string BareMm(double mm) => Strip(UnitsText.Millimetres(mm));

    public static string BareInches(double mm) => Strip(UnitsText.DecimalInches(mm));

    public static string BareSixteenths(double mm) => Strip(UnitsText.Sixteenths(mm));

    public static string Degrees(double? degrees) => degrees is { } d ? $"{d:0.0}°" : "–";

    private static string Strip(string withUnit) => withUnit[..withUnit.LastIndexOf(' ')];
}
