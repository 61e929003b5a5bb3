using System.CommandLine;

namespace DeflectScan.Cli.Options;

/// <summary>Where the archive lies: the same option for all commands of records.</summary>
internal static class ArchiveOption
{
    /// <summary>Names the archive's folder where no option does.</summary>
    public const string Variable = "DEFLECTSCAN_ARCHIVE";

    /// <summary>The folder where neither does.</summary>
    public const string Default = "deflectscan-records";

    public static Option<string?> Make() => new("--archive")
    {
        HelpName = "DIR", Description = $"The archive's folder. [default: ${Variable}, else {Default} here]", Recursive = true,
    };

    public static string Folder(ParseResult parsed, Option<string?> option) => Folder(parsed.GetValue(option));

    /// <param name="given">As named on the command line, if it was.</param>
    public static string Folder(string? given) => given ?? (Environment.GetEnvironmentVariable(Variable) is { Length: > 0 } set ? set : Default);
}
