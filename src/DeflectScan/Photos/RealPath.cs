namespace DeflectScan.Photos;

/// <summary>Where a path leads, whatever links stand on the way.</summary>
public static class RealPath
{
    /// <summary>The full path with every symbolic link followed; parts that are not there stay as they are given.</summary>
    public static string Of(string path)
    {
        string full = Path.GetFullPath(path);
        string at = Path.GetPathRoot(full)!;
        foreach (string part in full[at.Length..].Split(Path.DirectorySeparatorChar, StringSplitOptions.RemoveEmptyEntries))
        {
            at = Path.Combine(at, part);
            try
            {
                at = File.ResolveLinkTarget(at, returnFinalTarget: true)?.FullName ?? at;
            }
            catch (Exception e) when (e is IOException or UnauthorizedAccessException)
            {
                // Not there, or not to be looked at: opening it will say so.
            }
        }

        return at;
    }
}
