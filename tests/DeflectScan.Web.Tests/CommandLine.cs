using System.Diagnostics;

namespace DeflectScan.Web.Tests;

/// <summary>The program itself, started as a person starts it: what the page shows must be what it prints.</summary>
internal static class CommandLine
{
    /// <returns>Standard output; the run must end with one of the wanted codes.</returns>
    public static async Task<string> Run(int[] codes, params string[] args)
    {
        ProcessStartInfo start = new("dotnet", [Path.Combine(AppContext.BaseDirectory, "deflectscan.dll"), .. args]) { RedirectStandardOutput = true, RedirectStandardError = true, UseShellExecute = false };
        start.Environment["HOME"] = Path.GetTempPath(); // nobody's own settings
        start.Environment.Remove("XDG_CONFIG_HOME");
        using Process process = Process.Start(start)!;
        Task<string> error = process.StandardError.ReadToEndAsync();
        string output = await process.StandardOutput.ReadToEndAsync();
        await process.WaitForExitAsync();
        Assert.True(codes.Contains(process.ExitCode), $"{string.Join(' ', args)} ended with {process.ExitCode}: {await error}");
        return output;
    }
}
