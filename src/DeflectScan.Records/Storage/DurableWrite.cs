using System.Security.Cryptography;

namespace DeflectScan.Records.Storage;

/// <summary>
/// The one way that a file comes into an archive: into a temporary file in the same folder, flushed, renamed, the folder flushed.
/// Whatever fails on the way, the place holds what it held before or the whole new file.
/// </summary>
public static class DurableWrite
{
    public const string TemporaryEnding = ".part";

    private const int BlockBytes = 1 << 20;

    /// <summary>Writes bytes to a place.</summary>
    public static void Bytes(IDurableFiles files, string path, ReadOnlyMemory<byte> bytes) =>
        Whole(files, path, file =>
        {
            files.Write(file, bytes.Span);
            return true;
        });

    /// <summary>Copies a stream to a place, provided that its bytes have the stated hash.</summary>
    /// <returns>False where they have another hash: nothing was put in place.</returns>
    public static bool Hashed(IDurableFiles files, string path, Stream source, string sha256) =>
        Whole(files, path, file =>
        {
            using IncrementalHash hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
            byte[] block = new byte[BlockBytes];
            int read;
            while ((read = source.Read(block)) > 0)
            {
                hash.AppendData(block, 0, read);
                files.Write(file, block.AsSpan(0, read));
            }

            return Convert.ToHexStringLower(hash.GetHashAndReset()) == sha256;
        });

    /// <summary>Lets <paramref name="fill"/> write a file and puts it in place if it says so.</summary>
    public static bool Whole(IDurableFiles files, string path, Func<FileStream, bool> fill)
    {
        string folder = Path.GetDirectoryName(path)!;
        string temporary = Path.Combine(folder, Path.GetRandomFileName() + TemporaryEnding);
        bool inPlace = false;
        try
        {
            using (FileStream file = files.Create(temporary))
            {
                if (!fill(file))
                    return false;
                files.Flush(file);
            }

            files.Rename(temporary, path);
            inPlace = true;
            files.FlushFolder(folder);
            return true;
        }
        finally
        {
            if (!inPlace)
                DeleteQuietly(temporary);
        }
    }

    /// <summary>A leftover does no harm: its name says what it is, and the next one that writes removes it.</summary>
    private static void DeleteQuietly(string path)
    {
        try
        {
            File.Delete(path);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            // Left for the next one that writes.
        }
    }
}
