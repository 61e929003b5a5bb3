using System.Security.Cryptography;
using DeflectScan.Records.Schema;

namespace DeflectScan.Records.Storage;

/// <summary>The photos of an archive: each file lies under the hash of its bytes, is written once and never altered.</summary>
internal sealed class PhotoStore(ArchivePaths paths, IDurableFiles files)
{
    private readonly List<string> _put = [];

    /// <summary>Puts a photo in its place before any row speaks of it. A file that is there and whole stays; a damaged one is put right.</summary>
    /// <param name="photo">Its row.</param>
    /// <param name="open">Opens the original.</param>
    /// <returns>False where the original's bytes do not have the hash.</returns>
    public bool Put(Row photo, Func<Stream> open)
    {
        string sha256 = photo.Text("sha256");
        string path = paths.Photo(sha256, photo.Text("extension"));
        if (HashOf(path) == sha256)
            return true;
        string folder = paths.PhotoFolder(sha256);
        if (!Directory.Exists(folder))
        {
            files.MakeFolder(folder);
            files.FlushFolder(paths.Photos);
        }

        bool putRight = File.Exists(path);
        using Stream source = open();
        if (!DurableWrite.Hashed(files, path, source, sha256))
            return false;
        if (!putRight)
            _put.Add(path);
        MakeReadOnly(path);
        return true;
    }

    /// <summary>Rows that speak of what was put are committed, or about to be: it stays.</summary>
    public void Keep() => _put.Clear();

    /// <summary>Takes away what was put for rows that will not be. What cannot be taken away does no harm.</summary>
    public void TakeBack()
    {
        foreach (string path in _put)
        {
            try
            {
                File.SetAttributes(path, FileAttributes.Normal);
                File.Delete(path);
            }
            catch (Exception e) when (e is IOException or UnauthorizedAccessException)
            {
                // It stays as a file that no row speaks of.
            }
        }

        _put.Clear();
    }

    /// <summary>The ending that a photo is kept under: by its first bytes, not its name, so that it is the same in every archive.</summary>
    public static string ExtensionFor(string path)
    {
        byte[] head = new byte[12];
        using FileStream file = new(path, FileMode.Open, FileAccess.Read, FileShare.Read, bufferSize: 0);
        int read = file.ReadAtLeast(head, head.Length, throwOnEndOfStream: false);
        return head[..read] switch
        {
            [0xFF, 0xD8, 0xFF, ..] => ".jpg",
            [0x89, (byte)'P', (byte)'N', (byte)'G', ..] => ".png",
            [(byte)'R', (byte)'I', (byte)'F', (byte)'F', _, _, _, _, (byte)'W', (byte)'E', (byte)'B', (byte)'P'] => ".webp",
            [_, _, _, _, (byte)'f', (byte)'t', (byte)'y', (byte)'p', ..] => ".heic",
            _ => ".photo",
        };
    }

    /// <summary>The hash of a file's bytes, or null where there is no such file.</summary>
    public static string? HashOf(string path)
    {
        if (!File.Exists(path))
            return null;
        using FileStream file = new(path, FileMode.Open, FileAccess.Read, FileShare.Read, bufferSize: 0);
        return Convert.ToHexStringLower(SHA256.HashData(file));
    }

    /// <summary>Against a slip of the hand; where the disk does not know such rights, the hash still tells.</summary>
    private static void MakeReadOnly(string path)
    {
        try
        {
            File.SetAttributes(path, FileAttributes.ReadOnly);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            // Nothing depends on it.
        }
    }
}
