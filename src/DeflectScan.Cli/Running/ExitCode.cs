using DeflectScan.Findings;
using DeflectScan.Records.Model;

namespace DeflectScan.Cli.Running;

/// <summary>What the program's exit status says; the same for every command.</summary>
internal static class ExitCode
{
    public const int Ok = 0;
    public const int Unexpected = 1;
    public const int WrongUsage = 2;
    public const int Refused = 3;
    public const int NeedsReview = 4;
    public const int NoArchive = 10;
    public const int ArchiveInUse = 11;
    public const int ArchiveDamaged = 12;
    public const int Cancelled = 130;

    private static readonly int[] FromBestToWorst = [Ok, NeedsReview, Refused, Unexpected];

    public static int For(MeasurementStatus status) => status switch
    {
        MeasurementStatus.Ok => Ok,
        MeasurementStatus.NeedsReview => NeedsReview,
        _ => Refused,
    };

    /// <summary>Of several photos the worst: all done, some to be reviewed, some refused, something unexpected at one.</summary>
    public static int Worst(IEnumerable<int> codes) => codes.MaxBy(c => Array.IndexOf(FromBestToWorst, c));

    public static int For(ArchiveProblem problem) => problem switch
    {
        ArchiveProblem.NotThere => NoArchive,
        ArchiveProblem.InUse => ArchiveInUse,
        ArchiveProblem.Damaged => ArchiveDamaged,
        ArchiveProblem.Refused => Refused,
        ArchiveProblem.ReadOnly => WrongUsage,
        _ => Unexpected,
    };

    /// <summary>One line for a command's help.</summary>
    public static string Describe(int code) => code switch
    {
        Ok => "done",
        Unexpected => "something unexpected went wrong",
        WrongUsage => "wrong usage: an option, its value or a file given with it",
        Refused => "refused: what was asked for cannot be given, the message says why",
        NeedsReview => "needs review: look at the warnings before you trust a figure",
        NoArchive => "there is no archive in that folder",
        ArchiveInUse => "another program is writing to the archive",
        ArchiveDamaged => "something in the archive is not what was written",
        _ => "cancelled",
    };
}

/// <summary>Wrong usage that only shows when the command runs; the message is one sentence for the user.</summary>
internal sealed class UsageException(string message) : InputException(message);

/// <summary>What was asked for cannot be given.</summary>
internal sealed class RefusedException(IReadOnlyList<Finding> findings) : Exception(findings[0].Message)
{
    public IEnumerable<Finding> Refusals => findings.Where(f => f.Severity == Severity.Refusal);

    /// <summary>The value that was made of what was given.</summary>
    /// <exception cref="RefusedException">It is refused.</exception>
    public static T Unless<T>(Outcome<T> outcome)
        where T : class => outcome.Value ?? throw new RefusedException(outcome.Findings);
}
