using System.Text.Json;
using Microsoft.Playwright;
using Xunit.Abstractions;

namespace DeflectScan.Web.Tests;

/// <summary>
/// From the input to new figures on the screen, by the browser's own clock: the input event's time stamp to the end of the frame that drew it. The bar
/// is 50 ms at 95 %, on a machine that has time. On one that is shared, a frame that changes nothing but one word takes as long as it takes: measured in the
/// same run just before, it is the calibrating loop, and three of it (50 ms over 16.7, a frame) stand for the bar.
/// </summary>
[Collection(PageTests.Name)]
public class PaceTests(PageFixture page, BrowserFixture browser, ITestOutputHelper output)
{
    private const int Moves = 60;

    /// <summary>Other work only ever makes a round slower: one of three that holds the bar shows that the page can.</summary>
    private const int Rounds = 3;
    private const double BarMs = 50;
    private const double Frames = 3;

    [Fact]
    public async Task FiguresFollowADraggedRingWithinTheFrame()
    {
        await using TestServer own = await TestServer.WithMeasured(page);
        await using Screen screen = await browser.Open(own, Look.Desk);
        await screen.ShowPhoto(page.Measured);
        await Hold(screen, "drag", await Pointing.Middle(screen, ".marks [data-ring='4'] .mark"), "Dragging a ring on the photo of 12 megapixels");
        Assert.Equal(2, await screen.Page.Locator("tr.live").CountAsync());
    }

    [Theory]
    [InlineData("[data-slides='5'] .grab", "Sliding a tried guide in the strip")]
    [InlineData(".marks [data-ring='5'] .mark", "Sliding a tried guide on the photo")]
    public async Task FiguresFollowATriedGuideWithinTheFrame(string handle, string what)
    {
        await using Screen screen = await browser.Open(page.Server, Look.Desk);
        await screen.Page.GotoAsync($"/photo/{page.Measured}/try");
        await screen.Page.WaitForSelectorAsync(".curve .point", new PageWaitForSelectorOptions { Timeout = 60_000 });
        await Hold(screen, "slide", await Pointing.Middle(screen, handle), what);
    }

    private async Task Hold(Screen screen, string name, (float X, float Y) at, string what)
    {
        double[] plain = await Plain(screen);
        await screen.Page.Mouse.MoveAsync(at.X, at.Y);
        await screen.Page.Mouse.DownAsync();
        await screen.Page.Mouse.MoveAsync(at.X + 8, at.Y);
        ICDPSession inside = await screen.Page.Context.NewCDPSessionAsync(screen.Page);
        await inside.SendAsync("Performance.enable", new Dictionary<string, object> { ["timeDomain"] = "threadTicks" });
        double empty = At95(plain), bar = Math.Max(BarMs, Frames * empty), late = double.PositiveInfinity, each = double.PositiveInfinity;
        for (int round = 1; round <= Rounds && (late > bar || each > BarMs / 2); round++)
        {
            await screen.Page.EvaluateAsync("name => performance.clearMeasures(name)", name);
            double before = await Processor(inside);
            for (int i = 0; i < Moves; i++)
                await screen.Page.Mouse.MoveAsync(at.X + 8 + (i % 12), at.Y + (i % 5));
            each = (await Processor(inside) - before) / Moves;
            double[] drag = await Times(screen, name);
            Assert.InRange(drag.Length, Moves / 2, Moves + 1);
            late = At95(drag);
            string load = File.Exists("/proc/loadavg") ? (await File.ReadAllTextAsync("/proc/loadavg")).Split(' ')[0] : "?";
            output.WriteLine($"{what}, round {round}: 95 % within {late:0.0} ms, median {At(drag, 0.5):0.0} ms, of {drag.Length}; an empty frame 95 % within {empty:0.0} ms, median {At(plain, 0.5):0.0} ms; {each:0.0} ms of the page's processor time a move; load {load}.");
        }

        Assert.InRange(late, 0, bar);
        Assert.InRange(each, 0, BarMs / 2); // processor time hardly depends on who else is at work
    }

    /// <summary>Processor time of the page's main thread so far, ms: handlers, style, layout, paint.</summary>
    private static async Task<double> Processor(ICDPSession inside)
    {
        JsonElement metrics = (await inside.SendAsync("Performance.getMetrics"))!.Value.GetProperty("metrics");
        return 1000 * metrics.EnumerateArray().First(m => m.GetProperty("name").GetString() == "TaskDuration").GetProperty("value").GetDouble();
    }

    /// <summary>Moves over a corner of the page that only writes a word.</summary>
    private static async Task<double[]> Plain(Screen screen)
    {
        await screen.Page.EvaluateAsync(
            """
            () => {
              performance.clearMeasures('plain');
              const corner = document.createElement('div');
              corner.id = 'plain';
              Object.assign(corner.style, { position: 'fixed', left: '0', top: '0', width: '120px', height: '40px', zIndex: 99 });
              let since = 0;
              corner.addEventListener('pointermove', event => {
                if (since) return;
                since = event.timeStamp;
                requestAnimationFrame(() => {
                  corner.textContent = String(since);
                  const painted = new MessageChannel();
                  painted.port1.onmessage = () => { performance.measure('plain', { start: since, end: performance.now() }); since = 0; };
                  painted.port2.postMessage(null);
                });
              });
              document.body.append(corner);
            }
            """);
        for (int i = 0; i < Moves; i++)
            await screen.Page.Mouse.MoveAsync(20 + (i % 12), 10 + (i % 5));
        double[] times = await Times(screen, "plain");
        await screen.Page.EvaluateAsync("() => document.getElementById('plain').remove()");
        return times;
    }

    private static async Task<double[]> Times(Screen screen, string name)
    {
        await screen.Page.EvaluateAsync("() => new Promise(drawn => requestAnimationFrame(() => setTimeout(drawn, 50)))");
        return await screen.Page.EvaluateAsync<double[]>("name => performance.getEntriesByName(name).map(e => e.duration)", name);
    }

    private static double At95(double[] times) => At(times, 0.95);

    private static double At(double[] times, double share) => times.Order().ElementAt((int)(share * (times.Length - 1)));
}
