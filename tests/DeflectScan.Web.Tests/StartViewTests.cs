using Microsoft.Playwright;

namespace DeflectScan.Web.Tests;

/// <summary>A layout to begin with: the form is in the address, the picture moves with it.</summary>
[Collection(PageTests.Name)]
public class StartViewTests(PageFixture page, BrowserFixture browser)
{
    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public async Task TheRodMovesWithTheForm(bool phone)
    {
        await using Screen screen = await browser.Open(page.Server, phone ? Look.Phone : Look.Desk);
        await screen.Page.GotoAsync("/");
        await screen.Page.ClickAsync("nav >> text=Start");
        await Assertions.Expect(screen.Page.Locator(".rod-drawing .guide")).ToHaveCountAsync(8);
        await Assertions.Expect(screen.Page.Locator("nav a[aria-current]")).ToHaveTextAsync("Start");
        await Assertions.Expect(screen.Page.Locator(".caution")).ToContainTextAsync("90 degrees");
        string before = (await screen.Page.GetAttributeAsync(".rod-drawing", "aria-label"))!;
        await screen.Page.FillAsync("#start-length", "8ft");
        await Assertions.Expect(screen.Page.Locator(".rod-drawing")).Not.ToHaveAttributeAsync("aria-label", before);
        await Assertions.Expect(screen.Page.Locator(".rod-drawing")).ToHaveAttributeAsync("aria-label", new System.Text.RegularExpressions.Regex("of 2438 mm"));
        await screen.Page.Locator("input[type=range]").First.FocusAsync();
        await screen.Page.Keyboard.PressAsync("ArrowLeft");
        await Assertions.Expect(screen.Page.Locator(".rod-drawing")).ToHaveAttributeAsync("aria-label", new System.Text.RegularExpressions.Regex("of 24[23]0 mm"));
        await screen.Page.ClickAsync("text=Casting, guides on top");
        await Assertions.Expect(screen.Page.Locator(".rod-drawing")).ToHaveAttributeAsync("aria-label", new System.Text.RegularExpressions.Regex("casting"));
        string there = screen.Page.Url, table = (await screen.Page.Locator("main table").TextContentAsync())!;
        await screen.Page.GotoAsync("/");
        await screen.Page.GotoAsync(there);
        await Assertions.Expect(screen.Page.Locator("main table")).ToHaveTextAsync(table);
        byte[] pdf = await page.Server.Http.GetByteArrayAsync(await screen.Page.GetAttributeAsync("text=Print the tape", "href"));
        Assert.Equal("%PDF"u8.ToArray(), pdf[..4]);
    }

    [Fact]
    public async Task WhatCannotBeReadIsSaidAndNothingIsLost()
    {
        await using Screen screen = await browser.Open(page.Server, Look.Desk);
        await screen.Page.GotoAsync("/start");
        await Assertions.Expect(screen.Page.Locator(".rod-drawing")).ToHaveCountAsync(1);
        screen.Expected = 400;
        await screen.Page.FillAsync("#start-length", "long");
        await Assertions.Expect(screen.Page.Locator(".problem")).ToContainTextAsync("6ft 6in");
        Assert.Equal("long", await screen.Page.InputValueAsync("#start-length"));
        await screen.Page.FillAsync("#start-length", "2m");
        await Assertions.Expect(screen.Page.Locator(".problem")).ToBeEmptyAsync();
    }
}
