namespace DeflectScan.Cli;

/// <summary>Where lens profiles are looked for unasked.</summary>
internal static class LensFolders
{
    /// <summary>calibration/ in the current folder, then the user's own: deflectscan/lenses among the settings (~/.config on Linux).</summary>
    public static IReadOnlyList<string> All { get; } = User is { } own ? ["calibration", own] : ["calibration"];

    private static string? User =>
        Environment.GetFolderPath(Environment.SpecialFolder.ApplicationData, Environment.SpecialFolderOption.DoNotVerify) is { Length: > 0 } settings
            ? Path.Combine(settings, "deflectscan", "lenses")
            : null;
}
