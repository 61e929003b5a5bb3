using System.Text.Json;
using DeflectScan.Geometry;
using DeflectScan.Records.Comparing;
using DeflectScan.Records.Reports;
using DeflectScan.Reporting.Json;
using DeflectScan.Scenes.Samples;
using DeflectScan.Web.Correcting;
using DeflectScan.Web.Measuring;
using Microsoft.Playwright;

namespace DeflectScan.Web.Tests;

/// <summary>Follow: photos of one rod from one stand, what moved, what it did, what is still above the target, what is carried over.</summary>
[Collection(PageTests.Name)]
public class FollowTests(PageFixture page, BrowserFixture browser)
{
    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public async Task TheNewestPhotoIsLaidOnTheOneBefore(bool phone)
    {
        (TestServer server, string[] ids) = await SeriesFolder.Serve(page);
        await using TestServer own = server;
        await using Screen screen = await browser.Open(own, new Look(phone, false));
        await screen.Page.GotoAsync("/");
        ILocator link = screen.Page.Locator(".series-list a");
        await Assertions.Expect(link).ToContainTextAsync("3 photos from one stand");
        await (phone ? link.TapAsync() : link.ClickAsync());
        await Assertions.Expect(screen.Page.Locator("h1")).ToContainTextAsync(new System.Text.RegularExpressions.Regex(@"Guide 5 moved 1[12]\.\d ±\d\.\d mm toward the tip: bow 5 to 6 less by 1\.[01] ±"));
        await Assertions.Expect(screen.Page.Locator(".changes-list")).ToContainTextAsync("The rod stayed where it was, within 0.");
        await Assertions.Expect(screen.Page.Locator(".strip .before path").First).ToBeAttachedAsync();
        await Assertions.Expect(screen.Page.Locator("tr", new() { HasText = "5 to 6" }).Locator(".sure")).ToHaveCountAsync(2);
        await Assertions.Expect(screen.Page.Locator("tr", new() { HasText = "1 to 2" }).Locator(".sure")).ToHaveCountAsync(0);
        await screen.Page.FocusAsync("text=← Before");
        await screen.Page.Keyboard.PressAsync("Enter");
        await Assertions.Expect(screen.Page.Locator("h1")).ToContainTextAsync("No guide moved");
        Assert.EndsWith($"/series/{ids[0]}?photo={ids[1]}", screen.Page.Url, StringComparison.Ordinal);
        await screen.Page.ReloadAsync();
        await Assertions.Expect(screen.Page.Locator(".above .name")).ToHaveTextAsync("Photo 2 of 3");
        Directory.Delete(own.Folder, recursive: true);
    }

    [Fact]
    public async Task TheStepIsTheLibrarysComparisonToTheLastDigit()
    {
        (TestServer server, string[] ids) = await SeriesFolder.Serve(page);
        await using TestServer own = server;
        JsonElement series = JsonDocument.Parse(await own.Http.GetStringAsync($"/api/series/{ids[1]}")).RootElement;
        Assert.Equal(ids, series.GetProperty("photos").EnumerateArray().Select(p => p.GetProperty("id").GetString()));
        Comparison expected = Comparison.Of(await Document(own, ids[1]), await Document(own, ids[2]));
        JsonElement step = series.GetProperty("photos")[2].GetProperty("step");
        JsonElement same = JsonDocument.Parse(ComparisonJson.Of(expected, ids[1], ids[2]).ToJsonString()).RootElement;
        foreach (string part in new[] { "guides", "pairs", "same_stand", "changes" })
            Assert.Equal(same.GetProperty(part).GetRawText(), step.GetProperty(part).GetRawText());
        double whole = expected.Pairs[0].Before!.Gap.UncertaintyMm;
        Assert.InRange(step.GetProperty("pairs")[0].GetProperty("gap_change_uncertainty_mm").GetDouble(), 0.001, whole / 2);
    }

    [Fact]
    public async Task TheTargetIsKeptOverARestartAndShowsWhatIsAboveIt()
    {
        (string folder, string[] ids) = SeriesFolder.Make(page);
        try
        {
            await using (TestServer first = await TestServer.Start(null, folder))
            {
                await using Screen screen = await browser.Open(first, Look.Desk);
                await screen.Page.GotoAsync($"/series/{ids[0]}");
                await screen.Page.FillAsync("#target", "5.8");
                await screen.Page.Keyboard.PressAsync("Enter");
                await Assertions.Expect(screen.Page.Locator(".target-list").First).ToContainTextAsync("4 to 5");
                await Assertions.Expect(screen.Page.Locator(".strip .target")).ToHaveCountAsync(1);
                foreach (string wrong in new[] { "{\"mm\":0}", "{\"mm\":1e9}", "{\"mm\":\"x\"}", "[]", "{" })
                {
                    using StringContent content = new(wrong, System.Text.Encoding.UTF8, "application/json");
                    Assert.Equal(System.Net.HttpStatusCode.BadRequest, (await first.Http.PostAsync($"/api/series/{ids[0]}/target", content)).StatusCode);
                }
            }

            await using TestServer second = await TestServer.Start(null, folder);
            Assert.Contains("\"target_mm\":5.8", await second.Http.GetStringAsync($"/api/series/{ids[0]}"), StringComparison.Ordinal);
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    [Fact]
    public async Task WhatWasSetOnAPhotoIsProposedForTheNext()
    {
        (TestServer server, string[] ids) = await SeriesFolder.Serve(page);
        await using TestServer own = server;
        using HttpResponseMessage taken = await own.Correct(ids[0], "{\"do\":\"remove\",\"guide\":3}");
        taken.EnsureSuccessStatusCode();
        await own.Settled(ids[0]);
        int before = (await Document(own, ids[1])).Guides.Count;
        await using Screen screen = await browser.Open(own, Look.Phone);
        await screen.ShowPhoto(ids[1]);
        await Assertions.Expect(screen.Page.Locator(".since")).ToContainTextAsync("On the photo before one was said to be no guide.");
        Assert.Equal(before, (await Document(own, ids[1])).Guides.Count); // a proposal, nothing more
        await screen.Page.TapAsync("text=Take it over");
        await Assertions.Expect(screen.Page.Locator("#toast")).ToContainTextAsync("Taken over from the photo before.");
        await own.Settled(ids[1]);
        Assert.Equal(before - 1, (await Document(own, ids[1])).Guides.Count);
        await own.Tell(ids[1], "undo");
        await own.Settled(ids[1]);
        Assert.Equal(before, (await Document(own, ids[1])).Guides.Count);
        Directory.Delete(own.Folder, recursive: true);
    }

    [Fact]
    public void OnlyWhatIsMissingIsProposed()
    {
        Measurement read = SampleMeasurement.Ok;
        Vec2 added = new(2400, 1200);
        MarksState with = new Correction("add", null, added.X, added.Y, null).On(read, MarksState.None, []);
        GuideReport extra = read.Guides[1] with { Index = 3, Station = read.Guides[1].Station with { Mm = 120 }, RingPx = added };
        Measurement settled = read with { Guides = [read.Guides[0], read.Guides[1], extra, read.Guides[2] with { Index = 4 }] };
        CarriedMarks? missing = CarriedMarks.Of(read, settled, with, read, MarksState.None, []);
        Assert.Equal([.. read.Guides.Select(g => g.RingPx), added], missing!.State.Marks.RingsPx);
        Assert.Equal("On the photo before one place was set.", missing.Says);
        Assert.Null(CarriedMarks.Of(read, settled, with, settled, MarksState.None, [])); // it is seen there already
        GuideReport slid = extra with { RingPx = new Vec2(2500, 1100) };
        Assert.Null(CarriedMarks.Of(read, settled, with, settled with { Guides = [read.Guides[0], read.Guides[1], slid, settled.Guides[3]] }, MarksState.None, [])); // it was slid
        Assert.Null(CarriedMarks.Of(read, settled, with, read, with, [])); // a person has begun there already
        MarksState tip = MarksState.None with { Marks = Marks.None with { TipPx = new Vec2(3400, 900) } };
        Assert.Equal(new Vec2(3400, 900), CarriedMarks.Of(read, read, tip, SampleMeasurement.Refused, MarksState.None, [])!.State.Marks.TipPx);
    }

    private static async Task<Measurement> Document(TestServer server, string id) =>
        MeasurementJson.Read(await server.Http.GetStringAsync($"/api/photos/{id}/measurement/{(await server.Photo(id)).GetProperty("key").GetString()}.json")).Value!;
}
