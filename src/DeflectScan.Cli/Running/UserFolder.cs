namespace DeflectScan.Cli.Running;

/// <summary>The user's own folder among the settings: ~/.config/deflectscan on Linux.</summary>
internal static class UserFolder
{
    public static string? Path { get; } =
        Environment.GetFolderPath(Environment.SpecialFolder.ApplicationData, Environment.SpecialFolderOption.DoNotVerify) is { Length: > 0 } settings
            ? System.IO.Path.Combine(settings, "deflectscan")
            : null;

    /// <summary>The file of the lasting settings; null where there is no such folder.</summary>
    public static string? Settings => Path is null ? null : System.IO.Path.Combine(Path, "settings.json");
}
