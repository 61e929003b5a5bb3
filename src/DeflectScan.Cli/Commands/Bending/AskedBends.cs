using System.Globalization;
using DeflectScan.Bending;
using DeflectScan.Cli.Running;

namespace DeflectScan.Cli.Commands.Bending;

/// <summary>Reads lists of bends: "0.5x,1x,1.5x" and "30,60,90".</summary>
internal static class AskedBends
{
    /// <exception cref="UsageException">A part that is none, or too many.</exception>
    public static BendRequest Read(string? loads, string? turns)
    {
        BendRequest request = new([.. Parts(loads).Select(Load), .. Parts(turns).Select(Turn)]);
        return request.FirstProblem() is { } problem ? throw new UsageException(problem) : request;
    }

    /// <summary>A multiple of the photographed pull, "1.5x"; null where the text is none.</summary>
    public static double? Factor(string text) =>
        text.EndsWith('x') && double.TryParse(text[..^1], NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out double factor) && factor is >= AskedBend.LeastFactor and <= AskedBend.MostFactor
            ? factor
            : null;

    private static IEnumerable<string> Parts(string? list) => (list ?? "").Split(',', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries);

    private static AskedBend Load(string text) =>
        Factor(text) is { } factor ? AskedBend.Load(factor) : throw new UsageException($"'{text}' is no load: write multiples of the photographed one from 0.02x to 20x, as in 0.5x,1x,1.5x.");

    private static AskedBend Turn(string text) =>
        double.TryParse(text.TrimEnd('°'), NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out double deg) && deg is >= 1 and <= 170
            ? AskedBend.Turn(deg)
            : throw new UsageException($"'{text}' is no tip turn: write degrees from 1 to 170, as in 30,60,90.");
}
