using System.Globalization;

namespace DeflectScan.Geometry;

/// <summary>Forces as a person reads them off a scale: newton, or the weight of a mass.</summary>
public static class ForceText
{
    /// <summary>Newton a kilogram: standard acceleration of gravity, 3rd CGPM (1901), exact by definition.</summary>
    public const double NewtonPerKilogram = 9.80665;

    /// <summary>Kilograms a pound: exact by definition (international yard and pound agreement, 1959).</summary>
    public const double KilogramPerPound = 0.45359237;

    private static readonly (string Unit, double Newton)[] Units =
    [
        ("kg", NewtonPerKilogram), ("lb", KilogramPerPound * NewtonPerKilogram), ("oz", KilogramPerPound * NewtonPerKilogram / 16),
        ("g", NewtonPerKilogram / 1000), ("N", 1),
    ];

    /// <summary>Newton from "18.5N", "4.2lb", "1.9kg", "350g" or "12oz", blanks before the unit allowed; null when it is none of these.</summary>
    public static double? Parse(string text)
    {
        string trimmed = text.Trim();
        foreach ((string unit, double newton) in Units)
        {
            if (!trimmed.EndsWith(unit, StringComparison.OrdinalIgnoreCase))
                continue;
            string number = trimmed[..^unit.Length].TrimEnd();
            return double.TryParse(number, NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out double value) ? value * newton : null;
        }

        return null;
    }

    /// <summary>Pounds of a force in newton.</summary>
    public static double Pounds(double newton) => newton / NewtonPerKilogram / KilogramPerPound;

    /// <summary>"18.5 N (1.89 kg, 4.16 lb)".</summary>
    public static string All(double newton) => string.Create(
        CultureInfo.InvariantCulture,
        $"{newton:0.##} N ({newton / NewtonPerKilogram:0.00} kg, {newton / NewtonPerKilogram / KilogramPerPound:0.00} lb)");
}
