using System.Globalization;
using System.Text.RegularExpressions;

namespace DeflectScan.Geometry;

/// <summary>Figures and whole sentences in the unit that a person reads in. Sentences are made in millimetres once; here their lengths are turned.</summary>
public static partial class UnitsInSentences
{
    /// <summary>A length with its uncertainty, rounded up, and its unit: "27.1 ± 0.6 mm", "1.07 ± 0.03 in".</summary>
    public static string Figure(MeasuredLength length, LengthUnit unit) => unit == LengthUnit.Millimetres
        ? string.Create(CultureInfo.InvariantCulture, $"{length.Mm:0.0} ± {UnitsText.RoundedUp(length.UncertaintyMm, 0.1):0.0} mm")
        : string.Create(CultureInfo.InvariantCulture, $"{length.Mm / UnitsText.MmPerInch:0.00} ± {UnitsText.RoundedUp(length.UncertaintyMm / UnitsText.MmPerInch, 0.01):0.00} in");

    /// <summary>A length without its unit: "27.1", "1.07".</summary>
    public static string Bare(double mm, LengthUnit unit)
    {
        string text = unit == LengthUnit.Millimetres ? UnitsText.Millimetres(mm) : UnitsText.DecimalInches(mm);
        return text[..text.LastIndexOf(' ')];
    }

    /// <summary>"mm" or "in".</summary>
    public static string Name(LengthUnit unit) => unit == LengthUnit.Millimetres ? "mm" : "in";

    /// <summary>
    /// A sentence whose lengths are in millimetres, with them in the unit asked for: "falls from 19.4 to 8.8 mm" becomes "falls from 0.76 to 0.35 in".
    /// What follows ± is rounded up. Lengths that are also said in inches, scales ("0.52 mm a pixel") and what is typed ("402mm") stay.
    /// </summary>
    public static string Of(string sentence, LengthUnit unit) =>
        unit == LengthUnit.Millimetres ? sentence : Lengths().Replace(sentence, m => $"{Number().Replace(m.Groups["figures"].Value, Inches)} in");

    private static string Inches(Match number)
    {
        double inches = double.Parse(number.Groups["value"].Value, CultureInfo.InvariantCulture) / UnitsText.MmPerInch;
        double shown = number.Groups["within"].Success ? UnitsText.RoundedUp(inches, 0.01) : inches;
        string places = Hundredths(number.Groups["value"].Value) ? "0.000" : "0.00";
        return $"{number.Groups["within"].Value}{number.Groups["sign"].Value}{shown.ToString(places, CultureInfo.InvariantCulture)}";
    }

    /// <summary>A thickness below a millimetre, said to hundredths, as of a line: hundredths of an inch would say nothing of it.</summary>
    private static bool Hundredths(string mm) => mm.StartsWith("0.", StringComparison.Ordinal) && mm.Length > 3;

    /// <summary>Numbers with "to", "and", "or", "->", "±" or commas between, then mm.</summary>
    [GeneratedRegex(
        @"(?<![\w.])(?<figures>(±\s*)?[+-]?\d+(\.\d+)?((\s*±\s*|\s*->\s*|\s+to\s+|\s+and\s+|\s+or\s+|,\s+)[+-]?\d+(\.\d+)?)*) mm\b(?! a pixel)(?! \([0-9./ ]+ in)",
        RegexOptions.ExplicitCapture, 10_000)]
    private static partial Regex Lengths();

    [GeneratedRegex(@"(?<within>±\s*)?(?<sign>[+-])?(?<value>\d+(\.\d+)?)", RegexOptions.ExplicitCapture, 10_000)]
    private static partial Regex Number();
}
