namespace DeflectScan.Teaching;

/// <summary>A class that never was: rendered rods of <c>testimages</c> under invented names.</summary>
public static class DemoClass
{
    /// <summary>Which photo is whose.</summary>
    private static readonly (string Name, string Folder)[] Students =
    [
        ("Alma", "clean-spinning"), ("Bruno", "loads-mid"), ("Celia", "wall-shadow"), ("Darek", "yaw12"), ("Edda", "students-few"), ("Fabio", "thin-braid"),
        ("Greta", "one-card"), ("Henk", "clutter-bench"), ("Ilse", "bad-no-card"), ("Jonas", "rotated-exif"), ("Kaja", "bad-tip-cropped"), ("Luc", "loads-deep"),
    ];

    /// <summary>The instructor's own rod.</summary>
    public const string Reference = "loads-light";

    /// <summary>What the students handed in; null where the photos are not there.</summary>
    /// <param name="testImages">The folder <c>testimages</c> of a checkout.</param>
    public static IReadOnlyList<HandedIn>? In(string testImages)
    {
        HandedIn[] all = [.. Students.Select(s => new HandedIn(s.Name, [Photo(testImages, s.Folder)]))];
        return all.All(h => File.Exists(h.Photos[0])) ? all : null;
    }

    public static string Photo(string testImages, string folder) => Path.Combine(testImages, folder, "photo.jpg");
}
