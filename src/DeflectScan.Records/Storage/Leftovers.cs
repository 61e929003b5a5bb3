namespace DeflectScan.Records.Storage;

/// <summary>Temporary files of writers that did not live to the end; only ever removed by the one who holds the lock.</summary>
internal static class Leftovers
{
    public static void Remove(ArchivePaths paths)
    {
        string pattern = "*" + DurableWrite.TemporaryEnding + "*";
        foreach (string file in Directory.EnumerateFiles(paths.Folder, pattern))
            File.Delete(file);
        if (!Directory.Exists(paths.Photos))
            return;
        foreach (string file in Directory.EnumerateFiles(paths.Photos, pattern, SearchOption.AllDirectories))
            File.Delete(file);
    }
}
