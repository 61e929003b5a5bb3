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
