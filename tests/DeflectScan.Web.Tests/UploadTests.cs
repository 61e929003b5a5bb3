using System.Net;
using System.Text;
using DeflectScan.Measuring;
using DeflectScan.Findings;
using DeflectScan.Records.Model;
using DeflectScan.Reporting.Json;
using DeflectScan.Web.Storing;

namespace DeflectScan.Web.Tests;

/// <summary>Photos coming in: kept as they came, measured as the command line does, whatever the process meets with.</summary>
[Collection(PageTests.Name)]
public class UploadTests(PageFixture page)
{
    /// <summary>An engine that refuses at once, and tells what it was asked.</summary>
    private static Func<ServeOptions, ServeOptions> Quick(List<string> measured, TaskCompletionSource? gate = null) => options => options with
    {
        Measure = (path, choice, progress, cancel) =>
        {
            progress.Report("Opening the photo");
            gate?.Task.Wait(cancel);
            lock (measured)
                measured.Add(Path.GetFileName(path));
            Finding why = Finding.Refuse(FindingCode.RodNotFound, "No rod.");
            return new MeasureRun(new Measurement("0.1.0", null, MeasurementStatus.Refused, [why], null, null, null, [], null, [], null, null), null, null, null);
        },
    };

    [Fact]
    public async Task TheDocumentIsTheCommandLinesToTheByte()
    {
        string expected = MeasurementJson.Write(MeasurePipeline.Measure(TestServer.TestPhoto("clean-spinning"), MeasureOptions.Default));
        Assert.Equal(expected, await page.Server.Http.GetStringAsync($"/api/photos/{page.Measured}/measurement/read.json"));
    }

    /// <summary>Looking for cards and blank once for the check and once more to measure cost a third of the time: what does not measure says nothing beforehand.</summary>
    [Fact]
    public async Task NothingIsLookedForBesideTheMeasurement()
    {
        await using TestServer server = await TestServer.Start(Quick([]));
        string id = await server.UploadOf(await File.ReadAllBytesAsync(TestServer.TestPhoto("students-few")), "a.jpg");
        Assert.Equal(System.Text.Json.JsonValueKind.Null, (await server.Settled(id)).GetProperty("check").ValueKind);
    }

    [Fact]
    public async Task TheCheckIsSaidBeforeTheFigures()
    {
        List<string> said = [];
        await using TestServer server = await TestServer.Start(o => o with
        {
            Measure = (path, choice, progress, cancel) => MeasurePipeline.Run(path, choice, progress, cancel),
        });
        using Stream stream = await server.Http.GetStreamAsync("/api/events");
        using StreamReader events = new(stream);
        string id = await server.UploadOf(await File.ReadAllBytesAsync(TestServer.TestPhoto("clean-spinning")), "a.jpg");
        for (string? line = await events.ReadLineAsync(); line is not null && !line.Contains("\"stage\":\"done\"", StringComparison.Ordinal); line = await events.ReadLineAsync())
        {
            if (line.Contains("\"reach\":\"", StringComparison.Ordinal))
                said.Add(line.Split("\"reach\":\"")[1].Split('"')[0]);
        }

        Assert.Equal(["cards", "blank", "whole"], said.Distinct());
        Assert.Equal("good", (await server.Photo(id)).GetProperty("check").GetProperty("verdict").GetString());
    }

    [Fact]
    public async Task TheOriginalIsKeptAsItCame()
    {
        string kept = Path.Combine(page.Server.Folder, "bench", page.Measured, "original", "photo.jpg");
        Assert.Equal(await File.ReadAllBytesAsync(TestServer.TestPhoto("clean-spinning")), await File.ReadAllBytesAsync(kept));
    }

    [Fact]
    public async Task ARefusedPhotoStaysListedWithItsReason()
    {
        string list = await page.Server.Http.GetStringAsync("/api/photos");
        Assert.Contains("No scale card was found", list, StringComparison.Ordinal);
        Assert.Equal("refused", (await page.Server.Photo(page.Refused)).GetProperty("status").GetString());
    }

    [Fact]
    public async Task TheSamePhotoTwiceIsOnePhoto()
    {
        List<string> measured = [];
        await using TestServer server = await TestServer.Start(Quick(measured));
        byte[] bytes = [1, 2, 3];
        string first = await server.UploadOf(bytes, "a.jpg");
        await server.Settled(first);
        Assert.Equal(first, await server.UploadOf(bytes, "b.jpg"));
        Assert.Equal(["a.jpg"], measured);
    }

    [Theory]
    [InlineData("hello.html", "<script>alert(1)</script>")]
    [InlineData("x.svg", "<svg xmlns='http://www.w3.org/2000/svg' onload='alert(1)'/>")]
    [InlineData("empty.jpg", "")]
    public async Task AFileThatIsNoPhotoIsRefusedWithASentence(string name, string text)
    {
        await using TestServer server = await TestServer.Start();
        string id = await server.UploadOf(Encoding.UTF8.GetBytes(text), name);
        System.Text.Json.JsonElement photo = await server.Settled(id);
        Assert.Equal("refused", photo.GetProperty("status").GetString());
        Assert.EndsWith(".", photo.GetProperty("headline").GetProperty("answer").GetString(), StringComparison.Ordinal);
        Assert.Equal(HttpStatusCode.NotFound, (await server.Http.GetAsync($"/api/photos/{id}/overview.jpg")).StatusCode);
    }

    [Fact]
    public async Task TooLargeAFileIsRefusedAndNothingIsKept()
    {
        await using TestServer server = await TestServer.Start(o => o with { MaxUploadBytes = 1000 });
        using HttpResponseMessage stated = await server.Upload(new byte[1001], "a.jpg");
        Assert.Equal(HttpStatusCode.RequestEntityTooLarge, stated.StatusCode);
        using HttpRequestMessage request = new(HttpMethod.Post, "/api/photos?name=b.jpg") { Content = new StreamContent(new MemoryStream(new byte[1_000_000])) };
        request.Headers.TransferEncodingChunked = true;
        using HttpResponseMessage unstated = await server.Http.SendAsync(request);
        Assert.Equal(HttpStatusCode.RequestEntityTooLarge, unstated.StatusCode);
        Assert.Equal("[]", await server.Http.GetStringAsync("/api/photos"));
        Assert.Empty(Directory.EnumerateFileSystemEntries(Path.Combine(server.Folder, "bench", "incoming")));
    }

    [Theory]
    [InlineData("../../etc/passwd", "passwd")]
    [InlineData("..\\..\\boot.ini", "boot.ini")]
    [InlineData("..", "photo")]
    [InlineData("", "photo")]
    [InlineData(null, "photo")]
    [InlineData("a\u0000b\u202egpj.exe", "abgpj.exe")]
    [InlineData("<img src=x onerror=alert(1)>.jpg", "img src=x onerror=alert(1).jpg")]
    [InlineData("Rute 7'6\" – Prüfung.JPG", "Rute 7'6 – Prüfung.JPG")]
    public void NamesAreMadeHarmless(string? given, string kept)
    {
        Assert.Equal(kept, FileNames.Clean(given));
        Assert.Equal(kept, FileNames.Clean(kept));
    }

    [Fact]
    public void ALongNameKeepsItsEnding()
    {
        string kept = FileNames.Clean(new string('ä', 500) + ".jpeg");
        Assert.Equal(80, kept.Length);
        Assert.EndsWith(".jpeg", kept, StringComparison.Ordinal);
    }

    [Fact]
    public async Task WhatWasNotMeasuredIsMeasuredAfterARestart()
    {
        string folder = Directory.CreateTempSubdirectory("deflectscan-restart-").FullName;
        Directory.Delete(folder);
        try
        {
            List<string> measured = [];
            string id;
            await using (TestServer first = await TestServer.Start(Quick(measured, new TaskCompletionSource()), folder))
            {
                id = await first.UploadOf([1, 2, 3], "a.jpg");
                await first.UploadOf([4, 5, 6], "b.jpg");
            }

            Assert.Empty(measured);
            Directory.CreateDirectory(Path.Combine(folder, "bench", "incoming", "half")); // what a killed process leaves
            await using TestServer second = await TestServer.Start(Quick(measured), folder);
            await second.Settled(id);
            while (measured.Count < 2)
                await Task.Delay(20);
            Assert.Equal(["a.jpg", "b.jpg"], measured.Order(StringComparer.Ordinal));
            Assert.False(Directory.Exists(Path.Combine(folder, "bench", "incoming", "half")));
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    [Fact]
    public async Task AMeasurementCanBeCancelledAndAskedForAgain()
    {
        List<string> measured = [];
        TaskCompletionSource gate = new();
        await using TestServer server = await TestServer.Start(Quick(measured, gate));
        string id = await server.UploadOf([1, 2, 3], "a.jpg");
        await server.Tell(id, "cancel");
        Assert.Equal("cancelled", (await server.Settled(id)).GetProperty("stage").GetString());
        gate.SetResult();
        await server.Tell(id, "measure");
        Assert.Equal("refused", (await server.Settled(id)).GetProperty("status").GetString());
    }

    [Fact]
    public async Task TwoServersOnOneArchiveAreNotLetHappen()
    {
        await using TestServer server = await TestServer.Start();
        Records.Model.ArchiveException refused = await Assert.ThrowsAsync<Records.Model.ArchiveException>(() => TestServer.Start(null, server.Folder));
        Assert.Equal(Records.Model.ArchiveProblem.InUse, refused.Problem);
    }

    [Fact]
    public async Task SettingAsideLosesNothing()
    {
        await using TestServer server = await TestServer.Start(Quick([]));
        string id = await server.UploadOf([1, 2, 3], "a.jpg");
        await server.Settled(id);
        await server.Tell(id, "aside");
        Assert.Equal("[]", await server.Http.GetStringAsync("/api/photos"));
        await server.Tell(id, "back");
        Assert.Contains("a.jpg", await server.Http.GetStringAsync("/api/photos"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task ChangesAreToldAsTheyHappen()
    {
        await using TestServer server = await TestServer.Start(Quick([]));
        using Stream stream = await server.Http.GetStreamAsync("/api/events");
        using StreamReader events = new(stream);
        Assert.StartsWith(":", await events.ReadLineAsync(), StringComparison.Ordinal);
        string id = await server.UploadOf([1, 2, 3], "a.jpg");
        string? line;
        while ((line = await events.ReadLineAsync()) is not null && !line.Contains("\"stage\":\"done\"", StringComparison.Ordinal))
            Assert.True(line.Length == 0 || line.StartsWith("event: photo", StringComparison.Ordinal) || line.StartsWith("data: {\"id\":\"" + id, StringComparison.Ordinal));
        Assert.NotNull(line);
    }
}
