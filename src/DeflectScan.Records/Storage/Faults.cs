using DeflectScan.Records.Model;
using Microsoft.Data.Sqlite;

namespace DeflectScan.Records.Storage;

/// <summary>Turns what the disk and the database say into one sentence for the user.</summary>
internal static class Faults
{
    private const int SqliteBusy = 5;
    private const int SqliteLocked = 6;
    private const int SqliteReadOnly = 8;
    private const int SqliteInputOutput = 10;
    private const int SqliteCorrupt = 11;
    private const int SqliteFull = 13;
    private const int SqliteCannotOpen = 14;
    private const int SqliteConstraint = 19;
    private const int SqliteNotDatabase = 26;

    /// <summary>The low 16 bits of an IOException's HResult on Linux: errno ENOSPC, EDQUOT, EFBIG, EROFS; on Windows ERROR_DISK_FULL, ERROR_WRITE_PROTECT.</summary>
    private static readonly int[] FullCodes = [28, 122, 27, 112];
    private static readonly int[] ReadOnlyCodes = [30, 19];

    /// <summary>SQLITE_IOERR_WRITE, _FSYNC, _DIR_FSYNC, _TRUNCATE and _SHMSIZE: what SQLite says of a quota, a limit or a disk that takes no more.</summary>
    private static readonly int[] SqliteWriteFailed = [778, 1034, 1290, 1546, 4874];

    public static ArchiveException ReadOnly(Exception? cause = null) =>
        new(ArchiveProblem.ReadOnly, "The archive's folder cannot be written to: check its rights, or give the archive another place; nothing was changed.", cause);

    public static ArchiveException Damaged(string what, Exception? cause = null) =>
        new(ArchiveProblem.Damaged, $"The archive is damaged: {what}; a check of the archive names all damage.", cause);

    /// <summary>The sentence for a fault, or null for one that is none of the archive's.</summary>
    public static ArchiveException? Of(Exception fault) => fault switch
    {
        ArchiveException known => known,
        UnauthorizedAccessException => ReadOnly(fault),
        IOException io when Code(io, FullCodes) => Full(fault),
        IOException io when Code(io, ReadOnlyCodes) => ReadOnly(fault),
        SqliteException { SqliteErrorCode: SqliteFull } => Full(fault),
        SqliteException { SqliteErrorCode: SqliteBusy or SqliteLocked } =>
            new ArchiveException(ArchiveProblem.InUse, "Another program is using this archive: try again when it has finished.", fault),
        SqliteException { SqliteErrorCode: SqliteReadOnly or SqliteCannotOpen } => ReadOnly(fault),
        SqliteException { SqliteErrorCode: SqliteCorrupt or SqliteNotDatabase } => Damaged("its database cannot be read", fault),
        SqliteException { SqliteErrorCode: SqliteInputOutput } e when SqliteWriteFailed.Contains(e.SqliteExtendedErrorCode) => Full(fault),
        SqliteException { SqliteErrorCode: SqliteInputOutput } => Damaged("its database cannot be read or written on this disk", fault),
        SqliteException { SqliteErrorCode: SqliteConstraint } => Damaged("rows of its database contradict each other", fault),
        SqliteException => Damaged("its database does not answer as it should", fault),
        _ => null,
    };

    /// <summary>Runs something with an archive; what the disk and the database say comes out as one sentence.</summary>
    public static T Guarded<T>(Func<T> work)
    {
        try
        {
            return work();
        }
        catch (Exception e) when (e is not ArchiveException && Of(e) is not null)
        {
            throw Of(e)!;
        }
    }

    private static ArchiveException Full(Exception cause) =>
        new(ArchiveProblem.DiskFull, "The disk takes no more (it is full, or a quota or limit is reached): make room and try again; what was there before is unchanged.", cause);

    private static bool Code(IOException e, int[] codes) => codes.Contains(e.HResult & 0xFFFF);
}
