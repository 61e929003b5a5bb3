using System.Security.Cryptography;
using System.Text.Json;
using DeflectScan.Photos;
using DeflectScan.Reporting.Json;

namespace DeflectScan.Writing;

/// <summary>A folder with a measurement's document and pictures. It belongs to one photo, or to one set of photos.</summary>
/// <param name="path">The folder.</param>
/// <param name="files">By which rule it is written to.</param>
/// <param name="force">Let it change hands.</param>
public sealed class ResultsFolder(string path, OutputFiles files, bool force)
{
    public const string Document = "measurement.json";
    public const string Repeat = "repeat.json";
    public const string Overlay = "overlay.png";
    public const string Unrolled = "unrolled.png";

    /// <summary>A file in it.</summary>
    public string this[string name] => Path.Combine(path, name);

    /// <summary>
    /// Makes the folder where needed; sees that it holds no other photo's results and that no photo lies there under a name that will be written.
    /// </summary>
    /// <param name="photos">What is to be measured.</param>
    /// <param name="together">They are put together: the folder gets one document of all.</param>
    /// <exception cref="OutputRefusedException">The folder cannot be used.</exception>
    public void Prepare(IReadOnlyList<string> photos, bool together)
    {
        try
        {
            Directory.CreateDirectory(path);
            foreach (string photo in photos.Where(File.Exists))
                RefuseName(photo);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or ArgumentException)
        {
            throw new OutputRefusedException("The output folder cannot be made or written to: give another folder.");
        }

        if (force)
            return;
        if (together ? File.Exists(this[Document]) : File.Exists(this[Repeat]))
            throw new OutputRefusedException($"The output folder holds the results of {(together ? "one photo by itself" : "several photos together")}: give another folder, or say that they may be replaced.");
        if (!together && File.Exists(this[Document]) && Owner() is { } owner && File.Exists(photos[0]) && owner.Sha256 != Hash(photos[0]))
            throw OfAnotherPhoto(owner.Name);
        if (together && File.Exists(this[Repeat]) && !Names().SetEquals(photos.Select(Path.GetFileName)))
            throw OfAnotherPhoto(string.Join(", ", Names()));
        string[] pictures = together ? [Overlay] : [Overlay, Unrolled];
        foreach (string picture in pictures)
            files.Expect(this[picture], [OutputFormat.Png]);
        files.Expect(this[together ? Repeat : Document], [OutputFormat.Json]);
    }

    /// <summary>Writes one of its files, or takes it away where there is none this time: it must not stay behind from an earlier run.</summary>
    /// <exception cref="OutputRefusedException">It may not be written, or cannot be.</exception>
    public void Replace(string name, byte[]? bytes)
    {
        if (bytes is not null)
            files.Write(this[name], bytes);
        else
            files.Remove(this[name], OutputFormat.Png);
    }

    private static OutputRefusedException OfAnotherPhoto(string name) =>
        new($"The output folder holds the results of another photo ({name}): give another folder, or say that they may be replaced.");

    private static string Hash(string photo)
    {
        using FileStream stream = File.OpenRead(photo);
        return Convert.ToHexStringLower(SHA256.HashData(stream));
    }

    /// <summary>The photo that the folder's document is of; null where it cannot be read: writing it then is refused by its kind.</summary>
    private (string Name, string Sha256)? Owner() =>
        DocumentFile.Read(this[Document], MeasurementJson.Read).Value?.Photo is { } photo ? (photo.FileName, photo.Sha256) : null;

    private HashSet<string?> Names()
    {
        try
        {
            using JsonDocument json = JsonDocument.Parse(File.ReadAllBytes(this[Repeat]));
            return [.. json.RootElement.GetProperty("photos").EnumerateArray().Select(p => p.GetProperty("file").GetString())];
        }
        catch (Exception e) when (e is JsonException or KeyNotFoundException or InvalidOperationException or IOException)
        {
            return [];
        }
    }

    private void RefuseName(string photo)
    {
        string real = RealPath.Of(photo);
        if (new[] { Document, Repeat, Overlay, Unrolled }.Contains(Path.GetFileName(real), StringComparer.OrdinalIgnoreCase) && IsSameFolder(path, Path.GetDirectoryName(real)!))
            throw new OutputRefusedException($"The photo is named {Path.GetFileName(real)} and lies in the output folder, where it would be written over: give another folder.");
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
