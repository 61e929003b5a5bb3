namespace DeflectScan.Records.Model;

/// <summary>Why an archive could not be read or written.</summary>
public enum ArchiveProblem
{
    /// <summary>There is no archive in that folder.</summary>
    NotThere,

    /// <summary>Another program is writing to it.</summary>
    InUse,

    /// <summary>Something in it is not what was written.</summary>
    Damaged,

    /// <summary>The folder may not be written to.</summary>
    ReadOnly,

    /// <summary>The disk is full.</summary>
    DiskFull,

    /// <summary>What was asked for does not fit what is there: nothing was changed.</summary>
    Refused,
}

/// <summary>An archive could not do what it was asked; nothing that was acknowledged before is lost.</summary>
/// <param name="problem">What kind of problem.</param>
/// <param name="message">One sentence for the user that says what to do.</param>
/// <param name="cause">What brought it about, if anything did.</param>
public sealed class ArchiveException(ArchiveProblem problem, string message, Exception? cause = null) : Exception(message, cause)
{
    public ArchiveProblem Problem { get; } = problem;
}
