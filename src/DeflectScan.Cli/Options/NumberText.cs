using System.CommandLine.Parsing;
using System.Globalization;
using DeflectScan.Geometry;

namespace DeflectScan.Cli.Options;

/// <summary>Reads an option's number, with a sentence of our own where it is none.</summary>
internal static class NumberText
{
    public static int? Whole(ArgumentResult result)
    {
        string text = result.Tokens[0].Value;
        if (int.TryParse(text, NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out int value))
            return value;
        result.AddError($"'{text}' is not a whole number, as {Name(result)} needs.");
        return null;
    }

    /// <summary>A decimal point, whatever the system's language.</summary>
    public static double? Decimal(ArgumentResult result)
    {
        string text = result.Tokens[0].Value;
        if (double.TryParse(text, NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out double value))
            return value;
        result.AddError($"'{text}' is not a number with a decimal point, as {Name(result)} needs.");
        return null;
    }

    /// <summary>A length with its unit, or in that of --units without one.</summary>
    public static double? LengthMm(ArgumentResult result) => LengthMm(result, double.NegativeInfinity, double.PositiveInfinity);

    /// <summary>The same, a number without a unit being refused where it is no likely length of this kind: it was meant in the other unit.</summary>
    public static Func<ArgumentResult, double?> LengthMm(double leastLikelyMm, double mostLikelyMm) => result => LengthMm(result, leastLikelyMm, mostLikelyMm);

    private static double? LengthMm(ArgumentResult result, double leastLikelyMm, double mostLikelyMm)
    {
        string text = result.Tokens[0].Value;
        LengthUnit bare = UnitOption.Beside(result);
        if (LengthText.TryMm(text, bare, out double mm))
        {
            if (!LengthText.IsBare(text) || (mm >= leastLikelyMm && mm <= mostLikelyMm))
                return mm;
            result.AddError($"{Name(result)} {text} would be {text} {UnitsInSentences.Name(bare)}, which is not likely: write the unit, as in {text}mm or {text}in.");
            return null;
        }

        result.AddError($"'{text}' is no length, as {Name(result)} needs: write it as in 402mm or 15 13/16in.");
        return null;
    }

    /// <summary>A force in newton from "18.5N", "4.2lb", "1.9kg", "350g" or "12oz".</summary>
    public static double? Force(ArgumentResult result)
    {
        string text = result.Tokens[0].Value;
        if (ForceText.Parse(text) is { } newton)
            return newton;
        result.AddError($"'{text}' is no load, as {Name(result)} needs: write it like 18.5N, 4.2lb or 1.9kg.");
        return null;
    }

    private static string Name(ArgumentResult result) => (result.Parent as OptionResult)?.Option.Name ?? "it";
}
