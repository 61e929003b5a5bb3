namespace DeflectScan.Cli.Running;

/// <summary>Where lens profiles are looked for unasked.</summary>
internal static class LensFolders
{
    /// <summary>calibration/ in the current folder, then the user's own: deflectscan/lenses among the settings (~/.config on Linux).</summary>
    public static IReadOnlyList<string> All { get; } = UserFolder.Path is { } own ? ["calibration", Path.Combine(own, "lenses")] : ["calibration"];
}
