namespace DeflectScan.Tests.Photos;

/// <summary>A folder of its own that is gone afterwards.</summary>
internal sealed class TempFolder : IDisposable
{
    public string Path { get; } = Directory.CreateTempSubdirectory("deflectscan-test-").FullName;

    public string File(string name, byte[] bytes)
    {
        string path = System.IO.Path.Combine(Path, name);
        System.IO.File.WriteAllBytes(path, bytes);
        return path;
    }

    public void Dispose() => Directory.Delete(Path, recursive: true);
}
