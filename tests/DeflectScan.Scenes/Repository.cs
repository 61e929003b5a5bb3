namespace DeflectScan.Scenes;

/// <summary>Where the checkout's own files lie, found from the running test's folder upwards.</summary>
public static class Repository
{
    /// <summary>The folder that holds DeflectScan.sln.</summary>
    public static string Root { get; } = FindRoot();

    public static string TestImages => Path.Combine(Root, "testimages");

    /// <summary>A test photo by its folder's name.</summary>
    public static string Photo(string name) => Path.Combine(TestImages, name, "photo.jpg");

    public static Truth Truth(string name) => Scenes.Truth.Read(Path.Combine(TestImages, name, "truth.json"));

    private static string FindRoot()
    {
        for (DirectoryInfo? d = new(AppContext.BaseDirectory); d is not null; d = d.Parent)
        {
            if (File.Exists(Path.Combine(d.FullName, "DeflectScan.sln")))
                return d.FullName;
        }

        throw new DirectoryNotFoundException($"No DeflectScan.sln above {AppContext.BaseDirectory}: run from a checkout.");
    }
}
