using System.Text.Json;
using DeflectScan.Findings;
using DeflectScan.Measuring;
using Microsoft.Playwright;

namespace DeflectScan.Web.Tests;

/// <summary>A folder of the server's machine whose photos come in by themselves: each once, whole, or with the reason why not.</summary>
[Collection(PageTests.Name)]
public sealed class WatchTests(BrowserFixture browser) : IDisposable
{
    /// <summary>What a JPEG begins and ends with; enough for a file that is only kept and refused.</summary>
    private static readonly byte[] Begin = [0xFF, 0xD8, 0xFF, 0xE0, 0, 4, 0, 0, 1, 2, 3, 4], End = [0xFF, 0xD9];

    private readonly string _folder = Directory.CreateTempSubdirectory("deflectscan-watch-").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    private static byte[] Photo(int number) => [.. Begin, (byte)number, .. End];

    private Func<ServeOptions, ServeOptions> Watched(int restMs = 100, long maxBytes = 1000) => options => options with
    {
        WatchFolder = _folder, WatchRest = TimeSpan.FromMilliseconds(restMs), MaxUploadBytes = maxBytes,
        Measure = (_, _, _, _) => new MeasureRun(new Measurement("0.1.0", null, MeasurementStatus.Refused, [Finding.Refuse(FindingCode.RodNotFound, "No rod.")], null, null, null, [], null, [], null, null), null, null, null),
    };

    private void Write(string name, byte[] bytes) => File.WriteAllBytes(Path.Combine(_folder, name), bytes);

    private static async Task<string[]> Names(TestServer server) =>
        [.. JsonDocument.Parse(await server.Http.GetStringAsync("/api/photos")).RootElement.EnumerateArray().Select(p => p.GetProperty("name").GetString()!).Order(StringComparer.Ordinal)];

    private static async Task<string[]> Refused(TestServer server) => [.. JsonDocument.Parse(await server.Http.GetStringAsync("/api/watch")).RootElement.GetProperty("refused").EnumerateArray()
        .Select(r => $"{r.GetProperty("name").GetString()}: {r.GetProperty("reason").GetString()}").Order(StringComparer.Ordinal)];

    private static async Task Until(Func<Task<bool>> isSo)
    {
        for (DateTime late = DateTime.UtcNow.AddSeconds(60); !await isSo(); await Task.Delay(50))
            Assert.True(DateTime.UtcNow < late, "It did not come to that within a minute.");
    }

    [Fact]
    public async Task WhatIsThereAndWhatComesIsTakenInOnceAsItIs()
    {
        Write("there.jpg", Photo(1));
        Write("notes.txt", Photo(2));
        Write(".hidden.jpg", Photo(3));
        await using TestServer server = await TestServer.Start(Watched());
        await Until(async () => (await Names(server)).SequenceEqual(["there.jpg"]));
        Write("comes.JPG", Photo(4));
        Write("again.jpg", Photo(1)); // the same photo under another name
        File.Move(Path.Combine(_folder, "notes.txt"), Path.Combine(_folder, "renamed.png"));
        await Until(async () => (await Names(server)).Length == 3);
        Assert.Equal(["comes.JPG", "renamed.png", "there.jpg"], await Names(server));
        string id = JsonDocument.Parse(await server.Http.GetStringAsync("/api/photos")).RootElement.EnumerateArray().Single(p => p.GetProperty("name").GetString() == "comes.JPG").GetProperty("id").GetString()!;
        Assert.Equal(Photo(4), await File.ReadAllBytesAsync(Path.Combine(server.Folder, "bench", id, "original", "comes.JPG")));
        Assert.Equal("refused", (await server.Settled(id)).GetProperty("status").GetString()); // as if dropped: it stands in the list with its reason
        Assert.Empty(await Refused(server));
        Assert.Equal(5, Directory.GetFiles(_folder).Length); // nothing of the person's was touched
    }

    [Fact]
    public async Task AHalfWrittenPhotoIsWaitedFor()
    {
        await using TestServer server = await TestServer.Start(Watched(restMs: 400));
        await using (FileStream slow = File.Create(Path.Combine(_folder, "slow.jpg")))
        {
            await slow.WriteAsync(Begin);
            await slow.FlushAsync();
            Write("quick.jpg", Photo(1));
            await Until(async () => (await Names(server)).Length > 0);
            await Task.Delay(1500); // it rests for longer than a whole one would have to
            Assert.Equal(["quick.jpg"], await Names(server));
            await slow.WriteAsync(Photo(2));
        }

        await Until(async () => (await Names(server)).Length == 2);
        JsonElement photo = JsonDocument.Parse(await server.Http.GetStringAsync("/api/photos")).RootElement.EnumerateArray().Single(p => p.GetProperty("name").GetString() == "slow.jpg");
        byte[] whole = [.. Begin, .. Photo(2)];
        Assert.Equal(whole, await File.ReadAllBytesAsync(Path.Combine(server.Folder, "bench", photo.GetProperty("id").GetString()!, "original", "slow.jpg")));
    }

    [Fact]
    public async Task WhatIsNotTakenInIsListedWithItsReason()
    {
        Write("large.jpg", [.. Photo(1), .. new byte[2000]]);
        Write("raw.dng", Photo(2));
        File.CreateSymbolicLink(Path.Combine(_folder, "link.jpg"), "/etc/hostname");
        Write("good.jpg", Photo(3));
        await using TestServer server = await TestServer.Start(Watched());
        await Until(async () => (await Refused(server)).Length == 3 && (await Names(server)).Length == 1);
        Assert.Equal(
            ["large.jpg: The file is larger than 0 MB: take the photo at a lower resolution.", "link.jpg: It is a link: put the photo itself into the folder.", "raw.dng: This kind of picture is not read: save it as JPEG, PNG or WebP."],
            await Refused(server));
        File.Delete(Path.Combine(_folder, "raw.dng"));
        await Until(async () => (await Refused(server)).Length == 2);
        Assert.Equal(["good.jpg"], await Names(server));
    }

    [Fact]
    public async Task ARestartBringsNothingInTwiceNorBackWhatWasSetAside()
    {
        string archive = Path.Combine(_folder, "..", Path.GetFileName(_folder) + "-archive");
        try
        {
            Write("a.jpg", Photo(1));
            Write("b.jpg", Photo(2));
            await using (TestServer first = await TestServer.Start(Watched(), archive))
            {
                await Until(async () => (await Names(first)).Length == 2);
                string id = JsonDocument.Parse(await first.Http.GetStringAsync("/api/photos")).RootElement.EnumerateArray().Single(p => p.GetProperty("name").GetString() == "a.jpg").GetProperty("id").GetString()!;
                await first.Tell(id, "aside");
            }

            Write("c.jpg", Photo(3)); // while nobody was watching
            await using TestServer second = await TestServer.Start(Watched(), archive);
            await Until(async () => (await Names(second)).Length == 2);
            Assert.Equal(["b.jpg", "c.jpg"], await Names(second));
        }
        finally
        {
            Directory.Delete(archive, recursive: true);
        }
    }

    [Fact]
    public async Task AFolderThatCannotBeWatchedIsSaidAtTheStartAndNothingIsMade()
    {
        string archive = Path.Combine(_folder, "archive");
        foreach (string folder in new[] { Path.Combine(_folder, "none"), archive })
        {
            IOException refused = await Assert.ThrowsAsync<IOException>(() => PageServer.Start(new ServeOptions(archive, 0, MeasureOptions.Default) { WatchFolder = folder }));
            Assert.Contains("watch another folder", refused.Message, StringComparison.Ordinal);
        }

        Assert.False(Directory.Exists(archive));
        Directory.CreateDirectory(Path.Combine(archive, "bench"));
        IOException inside = await Assert.ThrowsAsync<IOException>(() => PageServer.Start(new ServeOptions(archive, 0, MeasureOptions.Default) { WatchFolder = Path.Combine(archive, "bench") }));
        Assert.Contains("lies in the archive", inside.Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public async Task ThePageSaysWhichFolderAndWhatWasLeftAsItHappens(bool phone)
    {
        await using TestServer server = await TestServer.Start(Watched());
        await using Screen screen = await browser.Open(server, new Look(phone, false));
        await screen.Page.GotoAsync("/");
        await Assertions.Expect(screen.Page.Locator(".watching")).ToContainTextAsync(_folder);
        Write("new.jpg", Photo(1));
        Write("<b>raw.dng", Photo(2));
        await Assertions.Expect(screen.Page.Locator(".photo-row")).ToContainTextAsync("new.jpg", new LocatorAssertionsToContainTextOptions { Timeout = 30_000 });
        await Assertions.Expect(screen.Page.Locator("[aria-label='Not taken in'] li")).ToHaveTextAsync("braw.dng: This kind of picture is not read: save it as JPEG, PNG or WebP.", new LocatorAssertionsToHaveTextOptions { Timeout = 30_000 });
        await screen.Keep(phone ? "watch-phone" : "watch-desk");
    }
}
