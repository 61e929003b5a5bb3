namespace DeflectScan.Nightly.Archives;

/// <summary>A folder of its own that is gone afterwards.</summary>
internal sealed class Scratch : IDisposable
{
    public string Path { get; } = Directory.CreateTempSubdirectory("deflectscan-archive-").FullName;

    public string this[string name] => System.IO.Path.Combine(Path, name);

    /// <summary>A folder in it, made.</summary>
    public string Folder(string name) => Directory.CreateDirectory(this[name]).FullName;

    /// <summary>Copies a folder with all that is in it.</summary>
    public static void Copy(string from, string to)
    {
        Directory.CreateDirectory(to);
        foreach (string folder in Directory.EnumerateDirectories(from))
            Copy(folder, System.IO.Path.Combine(to, System.IO.Path.GetFileName(folder)));
        foreach (string file in Directory.EnumerateFiles(from))
            File.Copy(file, System.IO.Path.Combine(to, System.IO.Path.GetFileName(file)), overwrite: true);
    }

    public void Dispose() => Directory.Delete(Path, recursive: true);
}
