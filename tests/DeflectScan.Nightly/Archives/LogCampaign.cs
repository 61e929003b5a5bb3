using DeflectScan.Records;
using DeflectScan.Records.Checking;
using DeflectScan.Records.Model;
using DeflectScan.Records.Schema;
using DeflectScan.Records.Storage;

namespace DeflectScan.Nightly.Archives;

/// <summary>
/// The write-ahead log of an archive that was not closed is cut, or pieces of it change places: the archive must come back in a state that was
/// committed, or be refused.
/// </summary>
internal static class LogCampaign
{
    private const int FrameBytes = 24 + 4096;
    private const int HeadBytes = 32;

    /// <returns>Faults, one line each; how many came back and how many were refused.</returns>
    public static (List<string> Faults, int Recovered, int Refused) Run(int seed, int count, Action<int>? progress = null)
    {
        using Scratch scratch = new();
        string open = scratch["open"];
        HashSet<string> states = Prepare(scratch, open);
        byte[] log = File.ReadAllBytes(Path.Combine(open, "records.db-wal"));
        Random random = new(seed);
        List<string> faults = [];
        (int recovered, int refused) = (0, 0);
        for (int n = 0; n < count; n++)
        {
            string folder = scratch["try"];
            Scratch.Copy(open, folder);
            (byte[] mangled, string how) = Mangle(log, random);
            File.WriteAllBytes(Path.Combine(folder, "records.db-wal"), mangled);
            try
            {
                CheckReport report = ArchiveCheck.Run(folder);
                if (!report.IsClean)
                    refused++;
                else if (states.Contains(Facts(folder)))
                    recovered++;
                else
                    faults.Add($"{n}: {how}: opened in a state that was never committed");
            }
            catch (ArchiveException e)
            {
                refused++;
                if (e.Problem != ArchiveProblem.Damaged)
                    faults.Add($"{n}: {how}: {e.Message}");
            }

            foreach (string file in Directory.EnumerateFiles(folder, "*", SearchOption.AllDirectories))
                File.SetAttributes(file, FileAttributes.Normal);
            Directory.Delete(folder, recursive: true);
            progress?.Invoke(n + 1);
        }

        return (faults, recovered, refused);
    }

    /// <summary>A copy of an archive with twelve commits in its log, and every state that was committed.</summary>
    private static HashSet<string> Prepare(Scratch scratch, string open)
    {
        string folder = scratch["archive"];
        string photos = scratch.Folder("photos");
        MadeUp.Fill(folder, photos, 1, 1);
        HashSet<string> states = [Facts(folder)];
        using ArchiveWriter writer = Archive.OpenForWriting(folder);
        for (int i = 0; i < 12; i++)
        {
            MadeUp.AddOne(writer, photos, 10 + i);
            states.Add(Facts(folder));
        }

        Scratch.Copy(folder, open);
        File.Delete(Path.Combine(open, "records.db-shm"));
        return states;
    }

    private static (byte[] Log, string How) Mangle(byte[] log, Random random)
    {
        int frames = (log.Length - HeadBytes) / FrameBytes;
        (int a, int b) = (random.Next(frames), random.Next(frames));
        switch (random.Next(4))
        {
            case 0:
                int length = random.Next(log.Length);
                return (log[..length], $"cut at {length}");
            case 1:
                return (Swapped(log, HeadBytes + (a * FrameBytes), HeadBytes + (b * FrameBytes), FrameBytes), $"frames {a} and {b} changed places");
            case 2:
                int size = random.Next(1, 512);
                int from = random.Next(log.Length - (2 * size));
                return (Swapped(log, from, from + size, size), $"{size} bytes at {from} and behind it changed places");
            default:
                byte[] doubled = [.. log];
                Array.Copy(log, HeadBytes + (a * FrameBytes), doubled, HeadBytes + (b * FrameBytes), FrameBytes);
                return (doubled, $"frame {a} in place of {b}");
        }
    }

    private static byte[] Swapped(byte[] log, int a, int b, int size)
    {
        byte[] swapped = [.. log];
        Array.Copy(log, a, swapped, b, size);
        Array.Copy(log, b, swapped, a, size);
        return swapped;
    }

    private static string Facts(string folder)
    {
        using Database database = Database.ForReading(Path.Combine(folder, "records.db"));
        return string.Join('\n', Tables.All.SelectMany(t => FactTables.Stream(database, t).Select(r => Convert.ToHexString(r.Sum()))));
    }
}
