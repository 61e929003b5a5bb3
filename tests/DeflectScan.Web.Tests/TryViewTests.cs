using System.Text.Json;
using System.Web;
using Microsoft.Playwright;

namespace DeflectScan.Web.Tests;

/// <summary>Other layouts as a person tries them: by mouse, finger and keys; the address holds everything.</summary>
[Collection(PageTests.Name)]
public class TryViewTests(PageFixture page, BrowserFixture browser)
{
    private async Task<Screen> Open(Look look, string more = "", TestServer? server = null)
    {
        Screen screen = await browser.Open(server ?? page.Server, look);
        await screen.Page.GotoAsync($"/photo/{page.Measured}/try{more}");
        await Settled(screen);
        return screen;
    }

    /// <summary>The server has confirmed what is shown.</summary>
    private static async Task Settled(Screen screen)
    {
        await Assertions.Expect(screen.Page.Locator(".try-page h1")).ToContainTextAsync("worst", new LocatorAssertionsToContainTextOptions { Timeout = 30_000 });
        await Assertions.Expect(screen.Page.Locator("tr.live")).ToHaveCountAsync(0, new LocatorAssertionsToHaveCountOptions { Timeout = 30_000 });
    }

    private static string Layout(Screen screen, string slot = "a") => HttpUtility.ParseQueryString(new Uri(screen.Page.Url).Query)[slot] ?? "";

    private static async Task<string> Cell(Screen screen, string figure, int row) => await screen.Page.Locator($"tbody [data-figure='{figure}']").Nth(row).InnerTextAsync();

    [Theory]
    [InlineData(false, true)]
    [InlineData(true, true)]
    [InlineData(false, false)]
    [InlineData(true, false)]
    public async Task AGuideIsDraggedAlongTheBlankAndItsFiguresFollow(bool phone, bool inStrip)
    {
        await using Screen screen = await Open(phone ? Look.Phone : Look.Desk);
        if (phone)
            await screen.Page.ClickAsync(".fold summary");
        string before = await Cell(screen, "bow", 3), far = await Cell(screen, "bow", 0);
        string handle = inStrip ? "[data-slides='5'] .grab" : ".marks [data-ring='5'] .mark";
        (float X, float Y) from = await Pointing.Middle(screen, handle);
        await Pointing.Drag(screen, phone, from, (22, 4), async () =>
        {
            await Assertions.Expect(screen.Page.Locator("tr.live")).ToHaveCountAsync(2); // its two pairs, in the frame, without the server
            Assert.NotEqual(before, await Cell(screen, "bow", 3));
            Assert.Equal(far, await Cell(screen, "bow", 0));
            await screen.Keep($"try-drag-{(inStrip ? "strip" : "photo")}-{(phone ? "phone" : "desk")}");
        });
        await Settled(screen);
        Assert.Matches("^5@[0-9.]+$", Layout(screen));
        Assert.Contains("±", await Cell(screen, "bow", 3), StringComparison.Ordinal);
        await Assertions.Expect(screen.Page.Locator(".moves li")).ToHaveCountAsync(1);
        await Assertions.Expect(screen.Page.Locator(".moves li")).ToContainTextAsync("Guide 5 from");
        string there = screen.Page.Url, shown = await screen.Page.Locator(".tables").TextContentAsync() ?? "";
        await screen.Page.GotoAsync("/");
        await screen.Page.GotoAsync(there); // a bookmark
        await Settled(screen);
        Assert.Equal(shown, await screen.Page.Locator(".tables").TextContentAsync());
    }

    [Fact]
    public async Task KeysMoveAddTakeOffAndUndo()
    {
        await using Screen screen = await Open(Look.Desk);
        double was = double.Parse((await screen.Page.GetAttributeAsync("[data-slides='5']", "aria-label"))!.Split(' ')[2]);
        await screen.Page.FocusAsync("[data-slides='5']");
        await screen.Page.Keyboard.PressAsync("Shift+ArrowLeft");
        await screen.Page.Keyboard.PressAsync("ArrowLeft");
        await Settled(screen);
        Assert.InRange(double.Parse(Layout(screen).Split('@')[1]) - was, 10.9, 11.1); // towards the reel: 10 mm and 1 mm
        await Assertions.Expect(screen.Page.Locator("[data-slides='5']")).ToBeFocusedAsync();
        await screen.Page.Keyboard.PressAsync("Control+z");
        await screen.Page.Keyboard.PressAsync("Control+z");
        Assert.Equal("", Layout(screen));
        await screen.Page.Keyboard.PressAsync("Control+Shift+z");
        Assert.StartsWith("5@", Layout(screen), StringComparison.Ordinal);
        await screen.Page.FocusAsync("text=As measured >> nth=0");
        await screen.Page.Locator(".try-layouts button", new PageLocatorOptions { HasText = "As measured" }).PressAsync("Enter");
        await screen.Page.Keyboard.PressAsync("Escape");
        int guides = await screen.Page.Locator("[data-slides]").CountAsync();
        await screen.Page.Locator("button", new PageLocatorOptions { HasText = "Add a guide" }).PressAsync("Enter");
        await Settled(screen);
        await Assertions.Expect(screen.Page.Locator("[data-slides]")).ToHaveCountAsync(guides + 1);
        await Assertions.Expect(screen.Page.Locator(".moves li")).ToContainTextAsync("Add guide");
        await screen.Page.FocusAsync("[data-slides='2']");
        await screen.Page.Keyboard.PressAsync("Enter");
        await screen.Page.Locator("button", new PageLocatorOptions { HasText = "Take it off" }).PressAsync("Enter");
        await Settled(screen);
        Assert.EndsWith(",x2", Layout(screen), StringComparison.Ordinal);
        await Assertions.Expect(screen.Page.Locator(".moves li").First).ToContainTextAsync("Take off guide 2");
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public async Task TheBestSpacingIsTakenFromTheCurveAndTwoLayoutsStandSideBySide(bool phone)
    {
        await using Screen screen = await Open(phone ? Look.Phone : Look.Desk);
        await Assertions.Expect(screen.Page.Locator(".curve .point")).Not.ToHaveCountAsync(0, new LocatorAssertionsToHaveCountOptions { Timeout = 60_000 });
        await screen.Page.ClickAsync("text=Best for 7 guides");
        await Assertions.Expect(screen.Page.Locator(".status").First).ToContainTextAsync("moved", new LocatorAssertionsToContainTextOptions { Timeout = 30_000 });
        await Settled(screen);
        string first = Layout(screen);
        await screen.Page.ClickAsync("text=A second layout beside it");
        await screen.Page.FocusAsync(".curve [data-does='n8']");
        await screen.Page.Keyboard.PressAsync("Enter");
        await Assertions.Expect(screen.Page.Locator(".status").First).ToContainTextAsync("1 added", new LocatorAssertionsToContainTextOptions { Timeout = 30_000 });
        await Settled(screen);
        Assert.Equal(first, Layout(screen));
        Assert.Contains(",a", Layout(screen, "b"), StringComparison.Ordinal);
        await Assertions.Expect(screen.Page.Locator(".compared thead th")).ToHaveTextAsync(["As measured", "A", "B"]);
        await Assertions.Expect(screen.Page.Locator(".compared tbody tr").First.Locator("td")).ToHaveTextAsync(["7", "7", "8"]);
        await Assertions.Expect(screen.Page.Locator(".other-strip svg")).ToHaveCountAsync(1);
        await screen.Keep($"try-two-{(phone ? "phone" : "desk")}");
        await screen.Page.ClickAsync(".try-layouts [data-does='a']");
        await Settled(screen);
        Assert.Contains("show=a", screen.Page.Url, StringComparison.Ordinal);
        await Assertions.Expect(screen.Page.Locator("[data-slides]")).ToHaveCountAsync(7);
    }

    [Fact]
    public async Task ALayoutIsAcceptedPrintedAndTakenBackAlsoAfterARestart()
    {
        string id = page.Measured;
        await using TestServer own = await TestServer.WithMeasured(page);
        await using (Screen screen = await Open(Look.Phone, "?a=5@402.3", own))
        {
            await screen.Page.FillAsync("#layout-title", "Rod <7>");
            await screen.Page.ClickAsync("text=Accept this layout");
            await Assertions.Expect(screen.Page.Locator(".accept .status")).ToHaveTextAsync("Accepted");
            await screen.Page.ClickAsync(".papers >> text=Letter");
            string tape = (await screen.Page.GetAttributeAsync(".accept [data-does='tape']", "href"))!;
            Assert.Contains("paper=letter", tape, StringComparison.Ordinal);
            byte[] pdf = await own.Http.GetByteArrayAsync(tape);
            Assert.Equal("%PDF"u8.ToArray(), pdf[..4]);
            await screen.Keep("try-accepted-phone");
        }

        JsonElement accepted = JsonDocument.Parse(await own.Http.GetStringAsync($"/api/photos/{id}/accepted")).RootElement.GetProperty("accepted");
        Assert.Equal(("5@402.3", "Rod <7>", "read"), (accepted.GetProperty("layout").GetString(), accepted.GetProperty("title").GetString(), accepted.GetProperty("of").GetString()));
        File.AppendAllText(Path.Combine(own.Folder, "bench", id, "layouts.jsonl"), "{\"layout\":{\"of\":\"re"); // killed while a further one was written
        await using Screen again = await Open(Look.Desk, "?a=5@402.3", own);
        await again.Page.ClickAsync("text=Take it back");
        await Assertions.Expect(again.Page.Locator("text=Accept this layout")).ToBeVisibleAsync();
        Assert.Equal(JsonValueKind.Null, JsonDocument.Parse(await own.Http.GetStringAsync($"/api/photos/{id}/accepted")).RootElement.GetProperty("accepted").ValueKind);
    }

    [Fact]
    public async Task OtherLoadsAreShownWhenAskedForWithTheCautionBeforeThem()
    {
        await using Screen screen = await Open(Look.Desk, "?a=5@402.3");
        await Assertions.Expect(screen.Page.Locator(".try-loads .caution")).ToContainTextAsync("90 degrees");
        await Assertions.Expect(screen.Page.Locator(".family")).ToHaveCountAsync(0);
        await screen.Page.ClickAsync("text=Show this layout at other loads");
        await Assertions.Expect(screen.Page.Locator(".family polyline.measured")).ToHaveCountAsync(1, new LocatorAssertionsToHaveCountOptions { Timeout = 90_000 });
        await Assertions.Expect(screen.Page.Locator(".try-loads .findings")).ToContainTextAsync("eye protection");
        await screen.Page.Locator(".try-loads").ScrollIntoViewIfNeededAsync();
        await screen.Keep("try-loads-desk");
        await screen.Page.ClickAsync("text=Take the layout best over these loads");
        await Assertions.Expect(screen.Page.Locator(".status").First).ToContainTextAsync("moved");
        await Settled(screen);
    }

    [Theory]
    [InlineData("layout=5@99999", 400)]
    [InlineData("layout=%3Cscript%3E", 400)]
    [InlineData("layout=99@300", 409)]
    [InlineData("layout=a0.0001,a3", 409)]
    public async Task AnAddressThatHoldsNoLayoutIsRefusedInOneSentence(string query, int status)
    {
        using HttpResponseMessage answer = await page.Server.Http.GetAsync($"/api/photos/{page.Measured}/try/read/whatif?{query}");
        Assert.Equal(status, (int)answer.StatusCode);
        Assert.EndsWith(".", JsonDocument.Parse(await answer.Content.ReadAsStringAsync()).RootElement.GetProperty("sentence").GetString()!.TrimEnd(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task ARefusedPhotoOffersNoLayout()
    {
        await using Screen screen = await browser.Open(page.Server, Look.Desk);
        await screen.Page.GotoAsync($"/photo/{page.Refused}/try");
        await Assertions.Expect(screen.Page.Locator("h1")).ToContainTextAsync("no figures");
        await screen.Page.ClickAsync("text=Go to the photo");
        await Assertions.Expect(screen.Page.Locator("text=Try other layouts")).ToHaveCountAsync(0);
    }
}
