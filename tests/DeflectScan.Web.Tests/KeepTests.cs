using System.Net;
using System.Text;
using System.Text.Json;
using Deque.AxeCore.Commons;
using Deque.AxeCore.Playwright;
using Microsoft.Playwright;

namespace DeflectScan.Web.Tests;

/// <summary>Keep: builds with facts, photos, layouts, notes and test casts; before and after; the reference book; a test set aside; reports.</summary>
[Collection(PageTests.Name)]
public class KeepTests(PageFixture page, BrowserFixture browser)
{
    [Fact]
    public Task EveryViewIsOpenToPeopleWhoSeeOrMoveDifferently() => AreOpen(Look.Desk);

    [Fact]
    [Trait("Set", "long")]
    public Task EveryViewIsOpenInOtherSizesAndLightToo() => AreOpen(Look.Phone, new Look(false, true), new Look(true, true));

    private async Task AreOpen(params Look[] looks)
    {
        await using KeptServer kept = await KeptServer.Start(page);
        await kept.Server.Http.PostAsync($"/api/series/{kept.Photos[0]}/target", new StringContent("{\"mm\":5.5}", Encoding.UTF8, "application/json"));
        (string Name, string Address, string Ready)[] views =
        [
            ("series", $"/series/{kept.Photos[0]}", ".strip svg"), ("builds", "/builds", ".build-row"), ("build", $"/builds/{kept.Build}", ".tests li"),
            ("compare", $"/builds/{kept.Build}/compare", ".strip svg"), ("keeping", $"/builds?keep={kept.Photos[0]}", ".build-row"),
        ];
        foreach (Look look in looks)
        {
            await using Screen screen = await browser.Open(kept.Server, look);
            foreach ((string name, string address, string ready) in views)
            {
                await screen.Page.GotoAsync(address);
                await screen.Page.WaitForSelectorAsync(ready);
                foreach (IElementHandle fold in await screen.Page.QuerySelectorAllAsync("main .opens:not([open]) summary"))
                    await fold.ClickAsync();
                if (name == "build")
                    await screen.Page.ClickAsync("text=Change what is said");
                await screen.Page.EvaluateAsync("document.fonts.ready");
                AxeResult found = await screen.Page.RunAxe(new AxeRunOptions { RunOnly = RunOnlyOptions.Tags("wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa") });
                string[] faults = [.. found.Violations.SelectMany(v => v.Nodes.Select(n => $"{v.Id}: {n.Html} {string.Join(' ', n.Any.Select(a => a.Message))}"))];
                Assert.True(faults.Length == 0, $"{name} {look}: {string.Join(Environment.NewLine, faults)}");
                if (name == "build")
                    await screen.Page.ClickAsync("text=Leave it");
                await screen.Keep($"{name}-{(look.IsPhone ? "phone" : "desk")}-{(look.IsDark ? "dark" : "light")}", isWhole: true);
                double wider = await screen.Page.EvaluateAsync<double>("document.documentElement.scrollWidth - innerWidth");
                Assert.True(wider <= 0, $"{name} {look} is {wider} px wider than the screen");
                string[] small = await screen.Page.EvaluateAsync<string[]>("[...document.querySelectorAll('main button, main a, main input:not(.visually-hidden), main select')].filter(e => { const r = e.getBoundingClientRect(); return r.width > 0 && (r.height < 43.5 || r.width < 43.5); }).map(e => e.outerHTML.slice(0, 120))");
                Assert.True(small.Length == 0, $"{name} {look}: {string.Join(Environment.NewLine, small)}"); // a finger is 44 px wide
            }
        }
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public async Task APhotoOfTheBenchIsKeptWithANewBuildAndThenAnother(bool phone)
    {
        await using KeptServer kept = await KeptServer.Start(page);
        await using Screen screen = await browser.Open(kept.Server, new Look(phone, false));
        await screen.ShowPhoto(kept.Photos[0]);
        ILocator button = screen.Page.Locator("text=Keep with a build");
        await (phone ? button.TapAsync() : button.ClickAsync());
        await screen.Page.FillAsync("#label", "before the slide");
        await screen.Page.FillAsync("#new-name", "Brook 6 ft");
        await screen.Page.Keyboard.PressAsync("Enter");
        await Assertions.Expect(screen.Page.Locator("h1")).ToHaveTextAsync("Brook 6 ft");
        await Assertions.Expect(screen.Page.Locator(".tests li")).ToContainTextAsync("before the slide");
        await AProofIsKept(screen, kept.Photos[0]);
        await screen.Page.GotoAsync($"/builds?keep={kept.Photos[1]}");
        ILocator row = screen.Page.Locator(".build-row a", new() { HasText = "Brook" });
        await (phone ? row.TapAsync() : row.ClickAsync());
        await Assertions.Expect(screen.Page.Locator(".tests li")).ToHaveCountAsync(2);
    }

    private static async Task AProofIsKept(Screen screen, string photo)
    {
        await screen.Page.GotoAsync($"/photo/{photo}/proof");
        await screen.Page.FillAsync("[name='station-1-tip-reading']", "1300");
        await screen.Page.ClickAsync(".proof-form button[type=submit]");
        await Assertions.Expect(screen.Page.Locator(".proof-keeping p").First).ToContainTextAsync("What is kept: the reading");
        await screen.Page.ClickAsync("text=Keep with Brook 6 ft");
        await screen.Page.ClickAsync(".proof-keeping a");
        await Assertions.Expect(screen.Page.Locator("section[aria-label='Proofs by hand'] li")).ToContainTextAsync("1 reading");
    }

    [Fact]
    public async Task WhatIsSaidOfABuildIsSaidByKeysAlone()
    {
        await using KeptServer kept = await KeptServer.Start(page);
        await using Screen screen = await browser.Open(kept.Server, Look.Desk);
        await screen.Page.GotoAsync("/builds");
        await screen.Page.FocusAsync(".build-row a");
        await screen.Page.Keyboard.PressAsync("Enter");
        await screen.Page.FocusAsync("text=Change what is said");
        await screen.Page.Keyboard.PressAsync("Enter");
        await screen.Page.FillAsync("#fact-handle", "split, 320 mm");
        await screen.Page.FillAsync("#fact-guides", "tip 1222mm, reel 22 1/2in, ring 25, frame high\ntip 0, frame tip-top");
        await screen.Page.FocusAsync("text=Say it");
        await screen.Page.Keyboard.PressAsync("Enter");
        await Assertions.Expect(screen.Page.Locator(".facts-list")).ToContainTextAsync("split, 320 mm");
        await Assertions.Expect(screen.Page.Locator("section[aria-label=Facts] tbody tr").First).ToContainTextAsync("571.5");
        await screen.Page.FillAsync("#note-text", "The line slaps guide 1 at 30 m.");
        await screen.Page.SelectOptionAsync("#note-kind", "test-cast");
        await screen.Page.FocusAsync("section[aria-label=Notes] button");
        await screen.Page.Keyboard.PressAsync("Enter");
        await Assertions.Expect(screen.Page.Locator(".notes li").First).ToContainTextAsync("The line slaps guide 1 at 30 m."); // one of the same kind was there before
        await Assertions.Expect(screen.Page.Locator(".notes li").First).ToContainTextAsync("test cast");
        await screen.Page.FillAsync("#layout-name", "level");
        await screen.Page.ClickAsync("button:text-is('as measured')");
        await Assertions.Expect(screen.Page.Locator("#toast")).ToContainTextAsync("considered");
        await screen.Page.ClickAsync("[aria-label='Choose it: level']");
        await Assertions.Expect(screen.Page.Locator(".layouts li", new() { HasText = "level, chosen" })).ToHaveCountAsync(1);
    }

    [Fact]
    public async Task ATestSetAsideStaysMarkedAndLeavesComparisons()
    {
        await using KeptServer kept = await KeptServer.Start(page);
        await using Screen screen = await browser.Open(kept.Server, Look.Phone);
        await screen.Page.GotoAsync($"/builds/{kept.Build}");
        await screen.Page.TapAsync("[aria-label^='Set aside: guide 5']");
        await screen.Page.FillAsync(".tests input", "the butt had slipped");
        await screen.Page.TapAsync(".tests form >> text=Set aside");
        await Assertions.Expect(screen.Page.Locator(".tests .aside")).ToContainTextAsync("Set aside: the butt had slipped");
        await Assertions.Expect(screen.Page.Locator("text=Before and after")).ToHaveCountAsync(0);
        using HttpResponseMessage alone = await kept.Server.Http.GetAsync($"/api/builds/{kept.Build}/compare");
        Assert.Equal(HttpStatusCode.Conflict, alone.StatusCode);
        await screen.Page.TapAsync("#toast >> text=Undo");
        await Assertions.Expect(screen.Page.Locator(".tests .aside")).ToHaveCountAsync(0);
        await screen.Page.TapAsync("text=Before and after");
        await Assertions.Expect(screen.Page.Locator(".changes-list")).ToContainTextAsync("Guide 5 moved 12.0 mm toward the tip");
        await Assertions.Expect(screen.Page.Locator(".strip .before path").First).ToBeAttachedAsync();
        await screen.Page.ReloadAsync();
        await Assertions.Expect(screen.Page.Locator(".changes-list")).ToContainTextAsync("Guide 5 moved");
    }

    [Fact]
    public async Task BothPhotosLieInRegister()
    {
        await using KeptServer kept = await KeptServer.Start(page);
        byte[] before = await kept.Server.Http.GetByteArrayAsync($"/api/builds/{kept.Build}/register/before.jpg");
        byte[] after = await kept.Server.Http.GetByteArrayAsync($"/api/builds/{kept.Build}/register/after.jpg");
        Assert.Equal([0xFF, 0xD8], before[..2]);
        Assert.NotEqual(before, after);
    }

    [Fact]
    public async Task TheReferenceBookFindsAndStartsALayout()
    {
        await using KeptServer kept = await KeptServer.Start(page);
        string fresh = JsonDocument.Parse(await (await Post(kept, "/api/builds", "{\"name\":\"New one\",\"blank_length_mm\":2100,\"side\":\"inside\",\"reel_class\":2500}")).Content.ReadAsStringAsync()).RootElement.GetProperty("id").GetString()!;
        await Post(kept, $"/api/builds/{kept.Build}/facts", "{\"guides\":[\"tip 1222mm, reel 572mm, ring 25\",\"tip 1020mm\",\"tip 840mm\",\"tip 640mm\",\"tip 420mm\",\"tip 200mm\",\"tip 0\"]}");
        await using Screen screen = await browser.Open(kept.Server, Look.Desk);
        await screen.Page.GotoAsync("/builds");
        await screen.Page.ClickAsync("text=The reference book");
        await screen.Page.FillAsync("#like-length", "2130");
        await screen.Page.FillAsync("#like-reel", "2500");
        await screen.Page.ClickAsync("text=Look");
        await Assertions.Expect(screen.Page.Locator("[aria-label='Like that'] li").First).ToContainTextAsync("River 7 ft");
        await Assertions.Expect(screen.Page.Locator("[aria-label='Like that'] li").First).ToContainTextAsync("same reel class");
        await screen.Page.GotoAsync($"/builds/{fresh}");
        await screen.Page.ClickAsync("text=Start one from the build most like it");
        await Assertions.Expect(screen.Page.Locator(".layouts li").First).ToContainTextAsync("started from River 7 ft");
    }

    [Fact]
    public async Task ReportsAreTheCommandLinesFilesAndNeverShownAsPages()
    {
        await using KeptServer kept = await KeptServer.Start(page);
        foreach ((string file, string begins) in new[] { ("sheet.pdf", "%PDF"), ("sheet.html", "<!"), ("sheet.json", "{"), ("tables.zip", "PK"), ("layout.json", "{") })
        {
            using HttpResponseMessage answer = await kept.Server.Http.GetAsync($"/api/builds/{kept.Build}/{file}");
            Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
            Assert.Equal("attachment", answer.Content.Headers.ContentDisposition!.DispositionType);
            Assert.StartsWith(begins, Encoding.Latin1.GetString(await answer.Content.ReadAsByteArrayAsync()), StringComparison.OrdinalIgnoreCase);
        }

        using Records.ArchiveReader reader = Records.Archive.OpenForReading(kept.Server.Folder);
        Assert.Equal(Records.Reports.BuildJson.Write(reader, reader.Build(kept.Build)!), await kept.Server.Http.GetStringAsync($"/api/builds/{kept.Build}/sheet.json"));
    }

    [Fact]
    public async Task TheWholeArchiveGoesOutAndComesIn()
    {
        await using KeptServer kept = await KeptServer.Start(page);
        byte[] export = await kept.Server.Http.GetByteArrayAsync("/api/archive/export.zip");
        await using TestServer other = await TestServer.Start();
        using ByteArrayContent content = new(export);
        Assert.Equal(HttpStatusCode.OK, (await other.Http.PostAsync("/api/archive/import", content)).StatusCode);
        Assert.Contains("River 7 ft", await other.Http.GetStringAsync("/api/builds"), StringComparison.Ordinal);
        using HttpResponseMessage verified = await other.Http.PostAsync("/api/archive/verify", null);
        Assert.Contains("\"clean\":true", await verified.Content.ReadAsStringAsync(), StringComparison.Ordinal);
        export[^40] ^= 1;
        using ByteArrayContent changed = new(export);
        Assert.Equal(HttpStatusCode.Conflict, (await other.Http.PostAsync("/api/archive/import", changed)).StatusCode);
        Assert.Empty(Directory.EnumerateFileSystemEntries(Path.Combine(other.Folder, "bench", "incoming")));
    }

    private static async Task<HttpResponseMessage> Post(KeptServer kept, string path, string json)
    {
        using StringContent content = new(json, Encoding.UTF8, "application/json");
        HttpResponseMessage answer = await kept.Server.Http.PostAsync(path, content);
        Assert.True(answer.IsSuccessStatusCode, await answer.Content.ReadAsStringAsync());
        return answer;
    }
}
