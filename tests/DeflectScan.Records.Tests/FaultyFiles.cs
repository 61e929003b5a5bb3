using DeflectScan.Records.Storage;
using Microsoft.Data.Sqlite;

namespace DeflectScan.Records.Tests;

/// <summary>The disk, on which one step fails: before it is done, or after (then the caller does not know that it was done).</summary>
internal sealed class FaultyFiles(int failing, bool after) : IDurableFiles
{
    public int Steps { get; private set; }

    public bool HasFailed { get; private set; }

    /// <summary>The name of the step that failed.</summary>
    public string? Failed { get; private set; }

    public FileStream Create(string path)
    {
        FileStream? made = null;
        Step("create", () => made = DiskFiles.Instance.Create(path), () => made?.Dispose());
        return made!;
    }

    public void Write(FileStream file, ReadOnlySpan<byte> bytes)
    {
        byte[] copy = bytes.ToArray();
        Step("write", () => DiskFiles.Instance.Write(file, copy), () => DiskFiles.Instance.Write(file, copy.AsSpan(0, copy.Length / 2)));
    }

    public void Flush(FileStream file) => Step("flush", () => DiskFiles.Instance.Flush(file));

    public void Rename(string from, string to) => Step("rename", () => DiskFiles.Instance.Rename(from, to));

    public void FlushFolder(string folder) => Step("flush folder", () => DiskFiles.Instance.FlushFolder(folder));

    public void MakeFolder(string folder) => Step("make folder", () => DiskFiles.Instance.MakeFolder(folder));

    public void Delete(string path) => Step("delete", () => DiskFiles.Instance.Delete(path));

    public void Commit(SqliteTransaction transaction) => Step("commit", transaction.Commit);

    private void Step(string name, Action work, Action? half = null)
    {
        if (Steps++ != failing)
        {
            work();
            return;
        }

        (HasFailed, Failed) = (true, name);
        if (after)
            work();
        half?.Invoke();
        throw new IOException("No space left on device", 28);
    }
}
