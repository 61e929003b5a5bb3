using System.Diagnostics;
using DeflectScan.Nightly.Archives;
using DeflectScan.Nightly.Pages;
using Microsoft.Playwright;

namespace DeflectScan.Web.Tests;

/// <summary>A thousand builds in the archive, and a server that is killed.</summary>
[Collection(PageTests.Name)]
public class LargeArchivePageTests(BrowserFixture browser)
{
    private const int BarMs = 200;

    [Fact]
    [Trait("Set", "long")]
    public async Task AThousandBuildsKeepNoViewWaiting()
    {
        using Scratch scratch = new();
        Records.Archive.Create(scratch["a"]);
        string id = LargeArchive.Fill(scratch["a"], scratch.Folder("p"), 1_000, measurementsOfEach: 3);
        await using TestServer server = await TestServer.Start(null, scratch["a"]);
        foreach (string path in new[]
        {
            "/api/builds", "/api/builds?page=40", "/api/builds?sort=worst", "/api/builds?sort=name&page=20", "/api/builds?words=finesse%20braid", "/api/builds?side=outside",
            "/api/builds/find?length=2134&turn=85&reel=2500&line=braid&use=bass", $"/api/builds/find?like={id}", $"/api/builds/{id}", "/api/series", "/api/photos",
        })
        {
            double ms = await Least(8, () => server.Http.GetStringAsync(path));
            Assert.True(ms <= BarMs, $"{path}: {ms:0} ms");
        }

        await using Screen screen = await browser.Open(server, Look.Desk);
        await screen.Page.GotoAsync("/builds");
        await screen.Page.WaitForSelectorAsync(".build-row");
        foreach ((string from, string to, string ready) in new[] { ("/", "[data-place=builds]", ".build-row"), ("/builds", ".build-row a", ".tests li"), ("/builds", "[data-place=bench]", ".take") })
        {
            double least = double.MaxValue;
            for (int i = 0; i < 6; i++)
            {
                await screen.Page.GotoAsync(from);
                await screen.Page.WaitForSelectorAsync(from == "/" ? ".take" : ".build-row");
                least = Math.Min(least, await screen.Page.EvaluateAsync<double>(
                    "([to, ready]) => new Promise(done => { const start = performance.now(); document.querySelector(to).click(); const look = () => document.querySelector(ready) ? done(performance.now() - start) : requestAnimationFrame(look); look(); })", new[] { to, ready }));
            }

            Assert.True(least <= BarMs, $"{from} to {to}: {least:0} ms");
        }
    }

    [Fact]
    [Trait("Set", "long")]
    public async Task AKilledServerHasLostNothingThatItAcknowledged()
    {
        PageKillResult killed = await PageKill.Run(seed: 7, count: 4);
        Assert.Empty(killed.Faults);
        Assert.True(killed is { Photos: > 0, Corrections: > 0, Builds: > 0 }, killed.ToString());
    }

    /// <summary>Least of some runs, ms: the machine may be busy with other things.</summary>
    private static async Task<double> Least(int times, Func<Task> work)
    {
        double least = double.MaxValue;
        for (int i = 0; i < times; i++)
        {
            long start = Stopwatch.GetTimestamp();
            await work();
            least = Math.Min(least, Stopwatch.GetElapsedTime(start).TotalMilliseconds);
        }

        return least;
    }
}
