using System.Text;
using DeflectScan.Reporting.Json;
using DeflectScan.Web.Measuring;
using DeflectScan.Web.Storing;

namespace DeflectScan.Web.Tests;

/// <summary>
/// A bench with a series of three photos, made from the shared measured one without measuring anew: the second shows the same, in the third guide 5 stands
/// 12 mm nearer the tip and the bows beside it are others. The photos' bytes differ by what follows the JPEG's end.
/// </summary>
internal static class SeriesFolder
{
    public const double SlidMm = 12;

    public static (string Folder, string[] Ids) Make(PageFixture page)
    {
        string folder = Path.Combine(Path.GetTempPath(), "deflectscan-series-" + Path.GetRandomFileName());
        Records.Archive.Create(folder);
        string from = Path.Combine(page.Server.Folder, "bench", page.Measured);
        byte[] photo = File.ReadAllBytes(Path.Combine(from, "original", "photo.jpg"));
        string name = Bench.DocumentName("read");
        Measurement first = MeasurementJson.Read(File.ReadAllText(Path.Combine(from, "results", name))).Value!;
        string[] ids = ["", "", ""];
        for (int i = 0; i < 3; i++)
        {
            byte[] bytes = [.. photo, .. new byte[i]];
            string sha = Convert.ToHexStringLower(System.Security.Cryptography.SHA256.HashData(bytes));
            ids[i] = sha[..16];
            string place = Path.Combine(folder, "bench", ids[i]);
            Directory.CreateDirectory(Path.Combine(place, "original"));
            Directory.CreateDirectory(Path.Combine(place, "results"));
            File.WriteAllBytes(Path.Combine(place, "original", $"{"abc"[i]}.jpg"), bytes);
            StoredPhoto stored = new(ids[i], $"{"abc"[i]}.jpg", sha, bytes.Length, new DateTimeOffset(2026, 5, 2, 10, i, 0, TimeSpan.Zero), IsAside: false);
            File.WriteAllBytes(Path.Combine(place, "photo.json"), System.Text.Json.JsonSerializer.SerializeToUtf8Bytes(stored, StoredJson.Default.StoredPhoto));
            File.Copy(Path.Combine(from, "results", "overview.jpg"), Path.Combine(place, "results", "overview.jpg"));
            File.Copy(Path.Combine(from, "results", Bench.MapName("read")), Path.Combine(place, "results", Bench.MapName("read")));
            Measurement m = first with { Photo = first.Photo! with { Sha256 = sha, FileName = $"{"abc"[i]}.jpg" } };
            File.WriteAllText(Path.Combine(place, "results", name), MeasurementJson.Write(i == 2 ? Slid(m) : m), new UTF8Encoding(false));
        }

        return (folder, ids);
    }

    public static async Task<(TestServer Server, string[] Ids)> Serve(PageFixture page)
    {
        (string folder, string[] ids) = Make(page);
        return (await TestServer.Start(null, folder), ids);
    }

    private static Measurement Slid(Measurement m)
    {
        GuideReport[] guides = [.. m.Guides.Select(g => g.Index == 5 ? g with { Station = g.Station with { Mm = g.StationMm - SlidMm } } : g)];
        IntervalReport[] pairs = [.. m.Intervals.Select(i => i.From switch { 4 => i with { Bow = i.Bow with { Mm = i.BowMm + 0.9 } }, 5 => i with { Bow = i.Bow with { Mm = i.BowMm - 1.1 }, Gap = i.Gap with { Mm = i.GapMm - 1.4 } }, _ => i })];
        return m with { Guides = guides, Intervals = pairs, Running = RunningReport.Of(pairs, m.Side!.Value, null) };
    }
}
