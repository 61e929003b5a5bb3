using System.CommandLine.Parsing;
using DeflectScan.Geometry;

namespace DeflectScan.Cli.Commands.Desk;

/// <summary>A pull given on the command line: a force as <see cref="ForceText"/> reads it; a bare number is newtons.</summary>
internal static class PullArgument
{
    public static double? Newtons(ArgumentResult result)
    {
        string text = result.Tokens[0].Value;
        if ((ForceText.Parse(text) ?? ForceText.Parse(text + "N")) is { } newton && double.IsFinite(newton))
            return newton;
        result.AddError($"'{text}' is no force: write it as in 10N, 1kg or 2.2lb.");
        return null;
    }
}
