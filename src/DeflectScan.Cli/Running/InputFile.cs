namespace DeflectScan.Cli.Running;

/// <summary>Files that are given to be read.</summary>
internal static class InputFile
{
    /// <summary>Sees that there is such a file: a wrong name is wrong usage in every command, and not a refusal of what the file holds.</summary>
    /// <exception cref="UsageException">There is none.</exception>
    public static string MustBeThere(string path) => File.Exists(path) || Directory.Exists(path)
        ? path
        : throw new UsageException($"There is no such file: check the name and folder of {Path.GetFileName(path)}.");
}
