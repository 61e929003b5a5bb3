using System.CommandLine.Parsing;
using System.Globalization;

namespace DeflectScan.Cli.Commands.Desk;

/// <summary>Reads a force as an angler or a scale says it.</summary>
internal static class ForceText
{
    // Standard gravity, and the pound: both exact by definition.
    private const double NewtonsAKilogram = 9.80665;
    private const double KilogramsAPound = 0.45359237;

    private static readonly (string Unit, double Newtons)[] Units =
        [("lb", NewtonsAKilogram * KilogramsAPound), ("oz", NewtonsAKilogram * KilogramsAPound / 16), ("kg", NewtonsAKilogram), ("g", NewtonsAKilogram / 1000), ("n", 1), ("", 1)];

    /// <summary>"10N", "1kg" (hung up), "2.2lb", "500g"; a bare number is newtons.</summary>
    public static double? Newtons(ArgumentResult result)
    {
        string text = result.Tokens[0].Value.Trim().ToLowerInvariant();
        (string unit, double factor) = Units.First(u => text.EndsWith(u.Unit, StringComparison.Ordinal));
        if (double.TryParse(text[..^unit.Length].TrimEnd(), NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out double value) && double.IsFinite(value))
            return value * factor;
        result.AddError($"'{result.Tokens[0].Value}' is no force: write it as in 10N, 1kg or 2.2lb.");
        return null;
    }
}
