namespace DeflectScan.Nightly.Archives;

/// <summary>
/// A folder of its own that is gone afterwards; in memory where there is such a place, as a killed process and a changed byte are the same there
/// and thousands of flushes cost nothing.
/// </summary>
internal sealed class Scratch : IDisposable
{
    private const string InMemory = "/dev/shm";

    public string Path { get; } = Directory.Exists(InMemory)
        ? Directory.CreateDirectory($"{InMemory}/deflectscan-archive-{Guid.NewGuid():N}").FullName
        : Directory.CreateTempSubdirectory("deflectscan-archive-").FullName;

    public string this[string name] => System.IO.Path.Combine(Path, name);

    /// <summary>A folder in it, made.</summary>
    public string Folder(string name) => Directory.CreateDirectory(this[name]).FullName;

    /// <summary>Copies a folder with all that is in it but the lock.</summary>
    public static void Copy(string from, string to)
    {
        Directory.CreateDirectory(to);
        foreach (string folder in Directory.EnumerateDirectories(from))
            Copy(folder, System.IO.Path.Combine(to, System.IO.Path.GetFileName(folder)));
        foreach (string file in Directory.EnumerateFiles(from).Where(f => !f.EndsWith("records.lock", StringComparison.Ordinal)))
            File.Copy(file, System.IO.Path.Combine(to, System.IO.Path.GetFileName(file)), overwrite: true);
    }

    public void Dispose() => Directory.Delete(Path, recursive: true);
}
