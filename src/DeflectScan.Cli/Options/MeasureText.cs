using System.CommandLine.Parsing;
using System.Globalization;
using DeflectScan.Geometry;

namespace DeflectScan.Cli.Options;

/// <summary>Reads what a person measured with a tape or a rule.</summary>
internal static class MeasureText
{
    /// <summary>"3mm" or "3".</summary>
    public static double? Millimetres(ArgumentResult result)
    {
        string text = result.Tokens[0].Value;
        if (UnitOption.Beside(result) == LengthUnit.Inches && LengthText.IsBare(text))
        {
            result.AddError($"{text} may be mm or inches: write {text}mm, as this is always measured in mm.");
            return null;
        }

        string number = text.EndsWith("mm", StringComparison.OrdinalIgnoreCase) ? text[..^2].TrimEnd() : text;
        if (Number(number) is { } value)
            return value;
        result.AddError($"'{text}' is not a length in mm.");
        return null;
    }

    /// <summary>"0.985" or "0.985±0.001".</summary>
    public static (double Value, double PlusMinus)? CardScale(ArgumentResult result)
    {
        string text = result.Tokens[0].Value;
        string[] parts = text.Replace("+-", "±", StringComparison.Ordinal).Split('±');
        if (parts.Length <= 2 && Number(parts[0]) is { } value && (parts.Length == 1 ? 0 : Number(parts[1])) is { } plusMinus)
            return (value, plusMinus);
        result.AddError($"'{text}' is not a number with a decimal point, or two with ± between them, as --card-scale needs.");
        return null;
    }

    /// <summary>"2-5=612mm±1", once or more.</summary>
    public static TapedDistance[] Taped(ArgumentResult result)
    {
        List<TapedDistance> all = [];
        foreach (Token token in result.Tokens)
        {
            if (TapedDistance.Parse(token.Value, UnitOption.Beside(result)) is { } distance)
                all.Add(distance);
            else
                result.AddError($"'{token.Value}' is no taped distance: give the two guides and the distance, as in 2-5=612mm±1 or 3-tip=25 3/16in.");
        }

        return [.. all];
    }

    private static double? Number(string text) =>
        double.TryParse(text, NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out double value) ? value : null;
}
