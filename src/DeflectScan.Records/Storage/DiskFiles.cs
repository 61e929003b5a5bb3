using System.Runtime.InteropServices;
using Microsoft.Data.Sqlite;

namespace DeflectScan.Records.Storage;

/// <summary>
/// Every step by which something reaches the disk, one method each, so that a test can let any one of them fail. The order of a durable file is:
/// temporary file, write, flush, rename, folder flush; only then the row that refers to it is committed.
/// </summary>
public interface IDurableFiles
{
    /// <summary>A new file that must not exist yet.</summary>
    public FileStream Create(string path);

    public void Write(FileStream file, ReadOnlySpan<byte> bytes);

    /// <summary>Returns when the file's bytes are on the disk.</summary>
    public void Flush(FileStream file);

    /// <summary>Puts a file in its place; one that is there already is replaced in one step.</summary>
    public void Rename(string from, string to);

    /// <summary>Returns when the folder's names are on the disk.</summary>
    public void FlushFolder(string folder);

    public void MakeFolder(string folder);

    public void Delete(string path);

    public void Commit(SqliteTransaction transaction);
}

/// <summary>The disk itself.</summary>
public sealed partial class DiskFiles : IDurableFiles
{
    public static DiskFiles Instance { get; } = new();

    public FileStream Create(string path) => new(path, FileMode.CreateNew, FileAccess.ReadWrite, FileShare.None);

    public void Write(FileStream file, ReadOnlySpan<byte> bytes)
    {
        try
        {
            file.Write(bytes);
        }
        catch (ArgumentOutOfRangeException e)
        {
            throw TooLarge(e);
        }
    }

    public void Flush(FileStream file)
    {
        try
        {
            file.Flush(flushToDisk: true);
        }
        catch (ArgumentOutOfRangeException e)
        {
            throw TooLarge(e);
        }
    }

    public void Rename(string from, string to) => File.Move(from, to, overwrite: true);

    /// <summary>Windows keeps names by its own journal and has no such call.</summary>
    public void FlushFolder(string folder)
    {
        if (OperatingSystem.IsWindows())
            return;
        int handle = Open(folder, 0);
        if (handle < 0)
            throw new IOException($"The folder cannot be opened (error {Marshal.GetLastPInvokeError()}).");
        try
        {
            // Some file systems cannot flush a folder and say EINVAL; there is nothing more to be done on those.
            const int Invalid = 22;
            if (Sync(handle) != 0 && Marshal.GetLastPInvokeError() is var error && error != Invalid)
                throw new IOException($"The folder cannot be flushed (error {error}).");
        }
        finally
        {
            _ = Close(handle);
        }
    }

    public void MakeFolder(string folder) => Directory.CreateDirectory(folder);

    public void Delete(string path) => File.Delete(path);

    public void Commit(SqliteTransaction transaction) => transaction.Commit();

    /// <summary>The runtime turns the kernel's EFBIG, a file at its limit, into an exception about arguments.</summary>
    private static IOException TooLarge(Exception cause)
    {
        const int FileTooLarge = 27;
        return new IOException(cause.Message, FileTooLarge);
    }

    [LibraryImport("libc", EntryPoint = "open", SetLastError = true, StringMarshalling = StringMarshalling.Utf8)]
    private static partial int Open(string path, int flags);

    [LibraryImport("libc", EntryPoint = "fsync", SetLastError = true)]
    private static partial int Sync(int handle);

    [LibraryImport("libc", EntryPoint = "close", SetLastError = true)]
    private static partial int Close(int handle);
}
