using System.Text;
using Microsoft.Playwright;

namespace DeflectScan.Web.Tests;

/// <summary>What is typed and not sent yet is never lost: not when another form of the view is sent, nor when another browser changes what is shown.</summary>
[Collection(PageTests.Name)]
public class TypedTests(PageFixture page, BrowserFixture browser)
{
    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public async Task ASavedNoteLeavesWhatIsTypedInTheOtherForms(bool phone)
    {
        await using KeptServer kept = await KeptServer.Start(page);
        await using Screen screen = await browser.Open(kept.Server, new Look(phone, false));
        await screen.Page.GotoAsync($"/builds/{kept.Build}");
        await TypeEverywhere(screen);
        await screen.Page.FillAsync("#note-text", "Slaps at guide 1.");
        await screen.Page.Locator("section[aria-label=Notes] button").PressAsync("Enter");
        await Assertions.Expect(screen.Page.Locator(".notes li")).ToHaveCountAsync(2);
        await Assertions.Expect(screen.Page.Locator("#note-text")).ToHaveValueAsync("");
        await IsTypedEverywhere(screen);

        await screen.Page.Locator(".tests form >> text=Set aside").PressAsync("Enter"); // and one form sent leaves the others again
        await Assertions.Expect(screen.Page.Locator(".tests .aside")).ToContainTextAsync("Set aside: the butt had slipped");
        await Assertions.Expect(screen.Page.Locator("#fact-handle")).ToHaveValueAsync("split, 320 mm");
        await Assertions.Expect(screen.Page.Locator("#layout-name")).ToHaveValueAsync("level");
    }

    [Fact]
    public async Task AnotherBrowsersChangeIsShownAndNothingTypedIsLost()
    {
        await using KeptServer kept = await KeptServer.Start(page);
        await using Screen screen = await browser.Open(kept.Server, Look.Desk);
        await screen.Page.GotoAsync($"/builds/{kept.Build}");
        await TypeEverywhere(screen);
        await screen.Page.FillAsync("#note-text", "The third cast");
        await screen.Page.FocusAsync("#note-text");
        await Post(kept, "notes", "{\"text\":\"Said at the bench.\",\"kind\":\"note\"}");
        await Post(kept, "facts", "{\"owner\":\"Berta\"}");
        await Assertions.Expect(screen.Page.Locator(".notes li").First).ToContainTextAsync("Said at the bench.");
        await IsTypedEverywhere(screen);
        await Assertions.Expect(screen.Page.Locator("#note-text")).ToBeFocusedAsync();
        await screen.Page.Keyboard.PressAsync("End");
        await screen.Page.Keyboard.TypeAsync(" went wide.");
        await Assertions.Expect(screen.Page.Locator("#note-text")).ToHaveValueAsync("The third cast went wide.");

        await screen.Page.ClickAsync("text=Say it"); // what was changed here, over what the other one said
        await Assertions.Expect(screen.Page.Locator(".facts-list")).ToContainTextAsync("split, 320 mm");
        await Assertions.Expect(screen.Page.Locator(".facts-list")).ToContainTextAsync("Berta");
    }

    [Fact]
    public async Task ATargetThatIsTypedOutlivesThatTheSeriesChanges()
    {
        (TestServer server, string[] ids) = await SeriesFolder.Serve(page);
        await using TestServer own = server;
        await using Screen screen = await browser.Open(own, Look.Desk);
        await screen.Page.GotoAsync($"/series/{ids[0]}");
        await Assertions.Expect(screen.Page.Locator(".above .name")).ToHaveTextAsync("Photo 3 of 3");
        await screen.Page.FillAsync("#target", "4.2");
        await own.Tell(ids[2], "aside");
        await Assertions.Expect(screen.Page.Locator(".above .name")).ToHaveTextAsync("Photo 2 of 2");
        await Assertions.Expect(screen.Page.Locator("#target")).ToHaveValueAsync("4.2");
        await screen.Page.Keyboard.PressAsync("Enter"); // the field still has the keys
        await Assertions.Expect(screen.Page.Locator(".target-text")).ToHaveTextAsync("4.2");
        Directory.Delete(own.Folder, recursive: true);
    }

    private static async Task TypeEverywhere(Screen screen)
    {
        await screen.Page.Locator("text=Change what is said").PressAsync("Enter");
        await screen.Page.FillAsync("#fact-handle", "split, 320 mm");
        await screen.Page.FillAsync("#layout-name", "level");
        await screen.Page.Locator("[aria-label^='Set aside: guide 5']").PressAsync("Enter");
        await screen.Page.FillAsync(".tests input", "the butt had slipped");
    }

    private static async Task IsTypedEverywhere(Screen screen)
    {
        await Assertions.Expect(screen.Page.Locator("#fact-handle")).ToHaveValueAsync("split, 320 mm");
        await Assertions.Expect(screen.Page.Locator("#layout-name")).ToHaveValueAsync("level");
        await Assertions.Expect(screen.Page.Locator(".tests input")).ToHaveValueAsync("the butt had slipped");
    }

    private static async Task Post(KeptServer kept, string what, string json)
    {
        using StringContent content = new(json, Encoding.UTF8, "application/json");
        using HttpResponseMessage answer = await kept.Server.Http.PostAsync($"/api/builds/{kept.Build}/{what}", content);
        Assert.True(answer.IsSuccessStatusCode, await answer.Content.ReadAsStringAsync());
    }
}
