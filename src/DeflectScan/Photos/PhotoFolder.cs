namespace DeflectScan.Photos;

/// <summary>The photos of a folder, told by their names' endings alone: what is none is refused when it is opened.</summary>
public static class PhotoFolder
{
    private static readonly string[] Endings = [".jpg", ".jpeg", ".png", ".webp", ".heic", ".heif"];

    public static bool IsPhoto(string path) => Endings.Contains(Path.GetExtension(path), StringComparer.OrdinalIgnoreCase) && !Path.GetFileName(path).StartsWith('.');

    /// <summary>Photos that lie in a folder itself, by name.</summary>
    public static IReadOnlyList<string> Photos(string folder) => [.. Directory.EnumerateFiles(folder).Where(IsPhoto).Order(StringComparer.Ordinal)];

    /// <summary>Files as they are, and for each folder the photos in it.</summary>
    public static IReadOnlyList<string> Expand(IEnumerable<string> filesAndFolders) =>
        [.. filesAndFolders.SelectMany(p => Directory.Exists(p) ? Photos(p) : [p])];

    /// <summary>What several photos are called beside each other: by the file's name, and with its folder where another one has the same.</summary>
    public static IReadOnlyList<string> Names(IReadOnlyList<string> photos)
    {
        HashSet<string> several = [.. photos.GroupBy(Path.GetFileName, StringComparer.OrdinalIgnoreCase).Where(g => g.Count() > 1).Select(g => g.Key!)];
        return [.. photos.Select(p => several.Contains(Path.GetFileName(p)) ? Path.Combine(Folder(p), Path.GetFileName(p)) : Path.GetFileName(p))];
    }

    /// <summary>A name for what is written of each: without the ending, and never one twice.</summary>
    public static IReadOnlyList<string> FolderNames(IReadOnlyList<string> photos)
    {
        HashSet<string> taken = new(StringComparer.OrdinalIgnoreCase);
        return [.. Names(photos).Select(n => Free(Path.GetDirectoryName(n) is { Length: > 0 } folder ? folder : Path.GetFileNameWithoutExtension(n)))];

        string Free(string name)
        {
            string free = name.Length == 0 ? "photo" : name;
            for (int n = 2; !taken.Add(free); n++)
                free = $"{name}-{n}";
            return free;
        }
    }

    private static string Folder(string path) => Path.GetFileName(Path.GetDirectoryName(Path.GetFullPath(path)))!;
}
