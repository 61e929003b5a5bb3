using DeflectScan.Records;
using DeflectScan.Records.Checking;
using DeflectScan.Records.Model;
using DeflectScan.Records.Transfer;

namespace DeflectScan.Nightly.Archives;

/// <summary>
/// One byte of an archive's database, seal or photos, or of its export, is changed or taken away: verify must name damage in that very file, and import
/// must refuse the export and take nothing from it.
/// </summary>
internal static class FlipCampaign
{
    /// <returns>What was not named, one line each.</returns>
    public static List<string> Run(int seed, int count, int builds = 4, Action<int>? progress = null)
    {
        using Scratch scratch = new();
        string folder = scratch["archive"];
        MadeUp.Fill(folder, scratch.Folder("photos"), 1, builds);
        string export = scratch["export.zip"];
        using (ArchiveReader reader = Archive.OpenForReading(folder))
            ExportFile.Write(reader, export);
        Archive.Create(scratch["other"]);
        using ArchiveWriter other = Archive.OpenForWriting(scratch["other"]);
        string[] files = [.. Directory.EnumerateFiles(folder, "*", SearchOption.AllDirectories).Where(f => new FileInfo(f).Length > 0).Order(StringComparer.Ordinal), export];
        long[] ends = new long[files.Length];
        long total = 0;
        for (int i = 0; i < files.Length; i++)
            ends[i] = total += new FileInfo(files[i]).Length;
        Random random = new(seed);
        List<string> missed = [];
        for (int n = 0; n < count; n++)
        {
            long at = random.NextInt64(total);
            int index = Array.FindIndex(ends, e => at < e);
            string file = files[index];
            byte[] whole = File.ReadAllBytes(file);
            int place = (int)(at - (index == 0 ? 0 : ends[index - 1]));
            bool remove = random.Next(10) == 0;
            int bit = random.Next(1, 256);
            File.SetAttributes(file, FileAttributes.Normal);
            File.WriteAllBytes(file, remove ? [.. whole[..place], .. whole[(place + 1)..]] : Flipped(whole, place, bit));
            string name = file == export ? "export.zip" : Path.GetRelativePath(folder, file);
            string what = $"{n}: {name} byte {place} {(remove ? "missing" : $"xor {bit}")}";
            if ((file == export ? NotRefused(other, export) : NotNamed(folder, name)) is { } missing)
                missed.Add($"{what}: {missing}");
            File.WriteAllBytes(file, whole);
            progress?.Invoke(n + 1);
        }

        if (!ArchiveCheck.Run(folder).IsClean)
            missed.Add("The archive put right again is not clean.");
        return missed;
    }

    private static string? NotNamed(string folder, string name)
    {
        try
        {
            CheckReport report = ArchiveCheck.Run(folder);
            return report.Damages.Any(d => d.Where.StartsWith(name, StringComparison.Ordinal)) ? null : $"not named ({report.Damages.Count} other damages)";
        }
        catch (Exception e)
        {
            return e is ArchiveException { Problem: ArchiveProblem.Refused } ? null : $"{e.GetType().Name} {e.Message}";
        }
    }

    private static string? NotRefused(ArchiveWriter other, string export)
    {
        try
        {
            ImportFile.Read(other, export);
            return "imported";
        }
        catch (Exception e)
        {
            return e is not ArchiveException { Problem: ArchiveProblem.Refused } ? $"{e.GetType().Name} {e.Message}" : other.Reader.BuildCount > 0 ? "refused, and taken in part" : null;
        }
    }

    private static byte[] Flipped(byte[] whole, int place, int bits)
    {
        byte[] changed = [.. whole];
        changed[place] ^= (byte)bits;
        return changed;
    }
}
