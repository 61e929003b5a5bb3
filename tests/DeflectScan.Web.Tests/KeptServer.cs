using DeflectScan.Proving;
using DeflectScan.Records;
using DeflectScan.Records.Keeping;
using DeflectScan.Records.Model;
using DeflectScan.Reporting.Json;
using DeflectScan.Web.Measuring;

namespace DeflectScan.Web.Tests;

/// <summary>A server whose archive has a build with two tests, the series of <see cref="SeriesFolder"/> kept, a layout, a proof and a note; gone with its folder.</summary>
internal sealed class KeptServer : IAsyncDisposable
{
    /// <summary>Markup that would run if any view took text for markup.</summary>
    public const string Hostile = "<img src=x onerror=alert(1)><script>alert(2)</script>\"'&";

    private KeptServer(TestServer server, string[] photos, string build) => (Server, Photos, Build) = (server, photos, build);

    public TestServer Server { get; }

    public string[] Photos { get; }

    public string Build { get; }

    public static async Task<KeptServer> Start(PageFixture page, bool isHostile = false)
    {
        (string folder, string[] ids) = SeriesFolder.Make(page);
        string text = isHostile ? Hostile : "";
        string build;
        using (ArchiveWriter writer = Archive.OpenForWriting(folder))
        {
            build = writer.AddBuild(new BuildFacts
            {
                Name = "River 7 ft" + text, Owner = "Anna" + text, Blank = "701 ML" + text, BlankLengthMm = 2134, Pieces = 2, ReelClass = 2500, Line = "braid 10 lb" + text, Use = "perch, jigs" + text,
                Side = Tracing.BendSide.Inside, Remarks = "Thread dark green." + text,
            });
            for (int i = 1; i < 3; i++)
            {
                string place = Path.Combine(folder, "bench", ids[i]);
                Measurement m = MeasurementJson.Read(await File.ReadAllTextAsync(Path.Combine(place, "results", Bench.DocumentName("read")))).Value!;
                if (isHostile)
                    m = m with { Photo = m.Photo! with { CameraMake = text, CameraModel = text, FileName = text } };
                writer.AddMeasurement(build, new NewMeasurement(m, Path.Combine(place, "original", $"{"abc"[i]}.jpg"), MeasureOptions.Default, null, (i == 1 ? "first test" : "guide 5 slid") + text));
                if (i == 1)
                    ProofKeeping.Add(writer, build, m, ProofRule.Of(m, [.. m.Guides.Take(3).Select((g, at) => new HandReading(ReadingKind.Station, at + 1, null, g.StationMm, 1))]).Value!);
                if (i == 1)
                    writer.AddLayout(build, "as measured" + text, "From the first test." + text, LayoutStations.Of(m));
            }

            writer.AddNote(build, NoteKind.TestCast, "Coils settle before guide 3." + text);
        }

        return new KeptServer(await TestServer.Start(null, folder), ids, build);
    }

    public async ValueTask DisposeAsync()
    {
        await Server.DisposeAsync();
        Directory.Delete(Server.Folder, recursive: true);
    }
}
