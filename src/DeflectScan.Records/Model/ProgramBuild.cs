using System.Reflection;

namespace DeflectScan.Records.Model;

/// <summary>
/// Which program made a measurement: its version and, where it was built from a repository, the first 8 digits of the commit, as "0.1.0+174a8ea7".
/// Figures must come out the same only where both are the same.
/// </summary>
internal static class ProgramBuild
{
    private const int CommitDigits = 8;

    /// <param name="toolVersion">The version in the measurement's document.</param>
    public static string Of(string toolVersion) =>
        typeof(Measurement).Assembly.GetCustomAttribute<AssemblyInformationalVersionAttribute>()?.InformationalVersion.Split('+') is [var version, { Length: >= CommitDigits } commit]
        && version == toolVersion
            ? $"{version}+{commit[..CommitDigits]}"
            : toolVersion;
}
