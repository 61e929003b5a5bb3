using DeflectScan.Scenes;

namespace DeflectScan.Accuracy;

/// <summary>A photo with its truth.</summary>
internal sealed record PhotoCase(string Name, string PhotoPath, Truth Truth);

/// <summary>Folders of photo.jpg with truth.json.</summary>
internal static class PhotoSet
{
    /// <summary>The folders given, or the checkout's own test photos.</summary>
    public static IReadOnlyList<DirectoryInfo> Folders(DirectoryInfo[]? given) =>
        given is { Length: > 0 } ? given : [new DirectoryInfo(Repository.TestImages)];

    /// <summary>Every photo in the folders and their subfolders, by name. Throws when there is none.</summary>
    public static IReadOnlyList<PhotoCase> Read(IReadOnlyList<DirectoryInfo> folders)
    {
        PhotoCase[] cases =
        [
            .. from folder in folders
               from truth in folder.EnumerateFiles("truth.json", SearchOption.AllDirectories)
               orderby truth.FullName
               select new PhotoCase(truth.Directory!.Name, Path.Combine(truth.DirectoryName!, "photo.jpg"), Truth.Read(truth.FullName)),
        ];
        return cases.Length > 0 ? cases : throw new DirectoryNotFoundException($"No photo with a truth.json in {string.Join(", ", folders.Select(f => f.FullName))}.");
    }
}
