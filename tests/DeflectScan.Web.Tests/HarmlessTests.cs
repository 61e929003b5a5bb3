using System.Net;
using System.Text;
using System.Text.Json;
using DeflectScan.Records;
using Microsoft.Playwright;

namespace DeflectScan.Web.Tests;

/// <summary>Script in names, EXIF and notes, senseless requests to the archive, guessing the code, two browsers on one build: refused or harmless, nothing lost.</summary>
[Collection(PageTests.Name)]
public class HarmlessTests(PageFixture page, BrowserFixture browser)
{
    [Fact]
    public async Task MarkupInNamesExifAndNotesIsTextInEveryView()
    {
        await using KeptServer kept = await KeptServer.Start(page, isHostile: true);
        await using Screen screen = await browser.Open(kept.Server, Look.Desk);
        bool dialog = false;
        screen.Page.Dialog += (_, d) =>
        {
            dialog = true;
            _ = d.DismissAsync();
        };
        foreach ((string address, string ready) in new[] { ("/builds", ".build-row"), ($"/builds/{kept.Build}", ".notes li"), ($"/builds/{kept.Build}/compare", ".strip svg"), ($"/builds?words=River", ".build-row") })
        {
            await screen.Page.GotoAsync(address);
            await screen.Page.WaitForSelectorAsync(ready);
            await Assertions.Expect(screen.Page.Locator("main")).ToContainTextAsync("<img src=x onerror=alert(1)>");
            Assert.Equal(0, await screen.Page.Locator("main script, main img[src='x']").CountAsync());
        }

        Assert.False(dialog);
    }

    [Fact]
    public async Task TwoBrowsersOnOneBuildLoseNothing()
    {
        await using KeptServer kept = await KeptServer.Start(page);
        await using Screen first = await browser.Open(kept.Server, Look.Desk);
        await using Screen second = await browser.Open(kept.Server, Look.Phone);
        foreach (Screen screen in new[] { first, second })
        {
            await screen.Page.GotoAsync($"/builds/{kept.Build}");
            await screen.Page.ClickAsync("text=Change what is said");
        }

        await second.Page.FillAsync("#fact-owner", "Berta");
        await second.Page.ClickAsync("text=Say it");
        await Assertions.Expect(second.Page.Locator(".facts-list")).ToContainTextAsync("Berta");
        await first.Page.FillAsync("#fact-handle", "one piece");
        await first.Page.ClickAsync("text=Say it");
        await Assertions.Expect(first.Page.Locator(".facts-list")).ToContainTextAsync("one piece");
        await Assertions.Expect(first.Page.Locator(".facts-list")).ToContainTextAsync("Berta"); // said by the other one meanwhile

        HttpStatusCode[] answers = await Task.WhenAll(Enumerable.Range(0, 12).Select(i => Post(kept, $"/api/builds/{kept.Build}/notes", $"{{\"text\":\"note {i}\"}}")));
        Assert.All(answers, a => Assert.Equal(HttpStatusCode.OK, a));
        string build = await kept.Server.Http.GetStringAsync($"/api/builds/{kept.Build}");
        Assert.All(Enumerable.Range(0, 12), i => Assert.Contains($"\"note {i}\"", build, StringComparison.Ordinal));
    }

    [Fact]
    public async Task AnArchiveThatAnotherProgramWritesToIsSaidSo()
    {
        await using KeptServer kept = await KeptServer.Start(page);
        using ArchiveWriter other = Archive.OpenForWriting(kept.Server.Folder);
        Assert.Equal(HttpStatusCode.Locked, await Post(kept, $"/api/builds/{kept.Build}/notes", "{\"text\":\"x\"}"));
        Assert.Contains("River", await kept.Server.Http.GetStringAsync("/api/builds"), StringComparison.Ordinal); // reading goes on
    }

    [Theory]
    [InlineData("notes", "")]
    [InlineData("notes", "{")]
    [InlineData("notes", "[1]")]
    [InlineData("notes", "{\"text\":5}")]
    [InlineData("notes", "{\"text\":\"x\",\"kind\":\"shout\"}")]
    [InlineData("facts", "{\"name\":\"\"}")]
    [InlineData("facts", "{\"blank_length_mm\":-5}")]
    [InlineData("facts", "{\"guides\":[\"somewhere\"]}")]
    [InlineData("choose", "{\"layout\":\"none\"}")]
    [InlineData("layouts", "{\"name\":\"\"}")]
    [InlineData("start", "{\"reduction\":99}")]
    [InlineData("tests/00000000-0000-0000-0000-000000000000/aside", "{}")]
    public async Task ASenselessChangeOfABuildIsRefusedInOneSentence(string what, string json)
    {
        string before = await page.Server.Http.GetStringAsync("/api/builds");
        await using KeptServer kept = await KeptServer.Start(page);
        string was = await kept.Server.Http.GetStringAsync($"/api/builds/{kept.Build}");
        using StringContent content = new(json, Encoding.UTF8, "application/json");
        using HttpResponseMessage answer = await kept.Server.Http.PostAsync($"/api/builds/{kept.Build}/{what}", content);
        Assert.True((int)answer.StatusCode is 400 or 404 or 409, answer.StatusCode.ToString());
        Assert.EndsWith(".", JsonDocument.Parse(await answer.Content.ReadAsStringAsync()).RootElement.GetProperty("sentence").GetString(), StringComparison.Ordinal);
        Assert.Equal(was, await kept.Server.Http.GetStringAsync($"/api/builds/{kept.Build}"));
        Assert.Equal(before, await page.Server.Http.GetStringAsync("/api/builds"));
    }

    [Theory]
    [InlineData("/api/builds/..%2f..%2frecords.db")]
    [InlineData("/api/builds/%2e%2e/sheet.pdf")]
    [InlineData("/api/builds/00000000-0000-0000-0000-000000000000")]
    [InlineData("/api/builds/' OR 1=1 --")]
    [InlineData("/api/series/..%2f..%2fphoto.json")]
    [InlineData("/api/builds/00000000-0000-0000-0000-000000000000/tests/x/document.json")]
    public async Task AddressesOfTheArchiveLeadNowhereElse(string path)
    {
        using HttpResponseMessage answer = await page.Server.Http.GetAsync(path);
        Assert.Equal(HttpStatusCode.NotFound, answer.StatusCode);
    }

    [Theory]
    [InlineData("/api/builds")]
    [InlineData("/api/archive/import")]
    [InlineData("/api/archive/verify")]
    [InlineData("/api/series/0123456789abcdef/target")]
    public async Task TheArchiveIsChangedFromThisPageOnly(string path)
    {
        using HttpClient plain = new() { BaseAddress = new Uri(page.Server.Server.Address) };
        using HttpRequestMessage request = new(HttpMethod.Post, path) { Content = new StringContent("{\"name\":\"x\"}") };
        request.Headers.Add("Origin", "http://evil.example");
        Assert.Equal(HttpStatusCode.Forbidden, (await plain.SendAsync(request)).StatusCode);
    }

    [Fact]
    public async Task ALargeChangeAndAWrongImportAreRefused()
    {
        await using TestServer server = await TestServer.Start();
        using StringContent large = new("{\"name\":\"" + new string('x', 200_000) + "\"}", Encoding.UTF8, "application/json");
        Assert.Equal(HttpStatusCode.RequestEntityTooLarge, (await server.Http.PostAsync("/api/builds", large)).StatusCode);
        using ByteArrayContent none = new([1, 2, 3]);
        Assert.Equal(HttpStatusCode.Conflict, (await server.Http.PostAsync("/api/archive/import", none)).StatusCode);
        Assert.Contains("\"count\":0", await server.Http.GetStringAsync("/api/builds"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task GuessingTheCodeIsStoppedAtTheDoor()
    {
        await using TestServer server = await TestServer.Start(o => o with { IsForPhones = true });
        List<HttpStatusCode> answers = [];
        for (int i = 0; i < 8; i++)
        {
            using StringContent guess = new($"{{\"code\":\"0000000{i}\"}}", Encoding.UTF8, "application/json");
            answers.Add((await server.Http.PostAsync("/api/enter", guess)).StatusCode);
        }

        Assert.Equal(Enumerable.Repeat(HttpStatusCode.Unauthorized, 5), answers.Take(5));
        Assert.All(answers.Skip(5), a => Assert.Equal(HttpStatusCode.TooManyRequests, a));
    }

    private static async Task<HttpStatusCode> Post(KeptServer kept, string path, string json)
    {
        using StringContent content = new(json, Encoding.UTF8, "application/json");
        using HttpResponseMessage answer = await kept.Server.Http.PostAsync(path, content);
        return answer.StatusCode;
    }
}
