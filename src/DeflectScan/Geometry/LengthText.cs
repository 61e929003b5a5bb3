using System.Globalization;
using System.Text.RegularExpressions;

namespace DeflectScan.Geometry;

/// <summary>Reads a length as a builder writes it: "402", "402mm", "40.2 cm", "15.83in", "15 13/16in", "13/16\"", "6ft 6in", with a sign or without.</summary>
public static partial class LengthText
{
    private const double MmPerFoot = 12 * UnitsText.MmPerInch;

    /// <summary>The length in mm; false where the text is none. A bare number is millimetres; the decimal sign is a point whatever the system's language.</summary>
    public static bool TryMm(string text, out double mm) => TryMm(text, LengthUnit.Millimetres, out mm);

    /// <summary>The same, a bare number being in a unit that was said elsewhere.</summary>
    public static bool TryMm(string text, LengthUnit bare, out double mm)
    {
        mm = 0;
        if (bare == LengthUnit.Inches && IsBare(text))
            text += "in";
        if (Metric().Match(text) is { Success: true } metric)
        {
            double factor = metric.Groups["unit"].Value.ToLowerInvariant() switch { "cm" => 10, "m" => 1000, _ => 1 };
            mm = Tidy(Sign(metric) * Number(metric.Groups["number"].Value) * factor);
            return double.IsFinite(mm);
        }

        if (Imperial().Match(text) is not { Success: true } m || !(m.Groups["feet"].Success || m.Groups["inch"].Success || m.Groups["top"].Success))
            return false;
        double inches = m.Groups["inch"].Success ? Number(m.Groups["inch"].Value) : 0;
        if (m.Groups["top"].Success)
            inches += Number(m.Groups["top"].Value) / Number(m.Groups["bottom"].Value);
        double feet = m.Groups["feet"].Success ? Number(m.Groups["feet"].Value) : 0;
        mm = Tidy(Sign(m) * ((feet * MmPerFoot) + (inches * UnitsText.MmPerInch)));
        return double.IsFinite(mm);
    }

    /// <summary>Whether a text is a number, or a whole number and a fraction, without a unit.</summary>
    public static bool IsBare(string text) => Unitless().IsMatch(text);

    [GeneratedRegex(@"^\s*[+-]?\s*[0-9]+(\.[0-9]+)?([\s-]+[0-9]+/[0-9]+|/[0-9]+)?\s*$", RegexOptions.ExplicitCapture, 10_000)]
    private static partial Regex Unitless();

    /// <summary>A length without what binary fractions leave behind (533.4000000000001 mm for 21 in): a nanometre is nothing here.</summary>
    public static double Tidy(double mm) => Math.Round(mm, 6);

    private static int Sign(Match m) => m.Groups["sign"].Value == "-" ? -1 : 1;

    private static double Number(string digits) => double.Parse(digits, NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture);

    [GeneratedRegex(@"^\s*(?<sign>[+-])?\s*(?<number>[0-9]{1,7}(\.[0-9]{1,6})?)\s*(?<unit>mm|cm|m)?\s*$", RegexOptions.IgnoreCase | RegexOptions.ExplicitCapture, 10_000)]
    private static partial Regex Metric();

    [GeneratedRegex(
        @"^\s*(?<sign>[+-])?\s*((?<feet>[0-9]{1,3}(\.[0-9]{1,6})?)\s*(ft|'))?\s*(((?<inch>[0-9]{1,5}(\.[0-9]{1,6})?)([\s-]+(?<top>[0-9]{1,3})/(?<bottom>[1-9][0-9]{0,2}))?|(?<top>[0-9]{1,3})/(?<bottom>[1-9][0-9]{0,2}))\s*(in|""))?\s*$",
        RegexOptions.IgnoreCase | RegexOptions.ExplicitCapture,
        200)]
    private static partial Regex Imperial();
}
