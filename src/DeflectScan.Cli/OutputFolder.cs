namespace DeflectScan.Cli;

/// <summary>Files as the program leaves them: whole or not at all, by a temporary file that is written, flushed and renamed.</summary>
internal static class OutputFolder
{
    public const string Document = "measurement.json";
    public const string Repeat = "repeat.json";
    public const string Overlay = "overlay.png";
    public const string Unrolled = "unrolled.png";

    /// <summary>Makes the folder where needed and sees that none of the files to come is the photo itself.</summary>
    /// <exception cref="UsageException">The folder cannot be made or written to, or holds the photo under a name that would be written over.</exception>
    public static void Prepare(string folder, string photoPath)
    {
        try
        {
            Directory.CreateDirectory(folder);
            if (!File.Exists(photoPath))
                return;
            FileInfo photo = new(photoPath);
            FileSystemInfo real = photo.ResolveLinkTarget(returnFinalTarget: true) ?? photo;
            if (!new[] { Document, Repeat, Overlay, Unrolled }.Contains(real.Name, StringComparer.OrdinalIgnoreCase))
                return;
            if (IsSameFolder(folder, Path.GetDirectoryName(real.FullName)!))
                throw new UsageException($"The photo is named {real.Name} and lies in the output folder, where it would be written over: give another folder with --out.");
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or ArgumentException)
        {
            throw new UsageException("The output folder cannot be made or written to: give another one with --out.");
        }
    }

    /// <summary>Writes a file, or takes it away where there is none this time: it must not stay behind from an earlier run.</summary>
    /// <exception cref="UsageException">It cannot be written.</exception>
    public static void Replace(string path, byte[]? bytes)
    {
        if (bytes is not null)
            Write(path, bytes);
        else if (File.Exists(path))
            File.Delete(path);
    }

    /// <summary>Writes one file whole: what lay there before stays until the new one is on the disk.</summary>
    /// <exception cref="UsageException">It cannot be written.</exception>
    public static void Write(string path, ReadOnlySpan<byte> bytes)
    {
        string full = Path.GetFullPath(path);
        string temporary = Path.Combine(Path.GetDirectoryName(full)!, $".{Path.GetRandomFileName()}.part");
        bool made = false;
        try
        {
            using (FileStream stream = new(temporary, FileMode.CreateNew, FileAccess.Write))
            {
                made = true;
                stream.Write(bytes);
                stream.Flush(flushToDisk: true);
            }

            File.Move(temporary, full, overwrite: true);
            made = false;
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw new UsageException($"{Path.GetFileName(full)} cannot be written: give a place that you may write to.");
        }
        finally
        {
            if (made)
                File.Delete(temporary);
        }
    }

    /// <summary>By what a new file in the one folder shows in the other, so links and mounts do not matter.</summary>
    private static bool IsSameFolder(string a, string b)
    {
        string name = $".{Path.GetRandomFileName()}.part";
        string probe = Path.Combine(a, name);
        try
        {
            using (new FileStream(probe, FileMode.CreateNew))
                return File.Exists(Path.Combine(b, name));
        }
        finally
        {
            File.Delete(probe);
        }
    }
}
