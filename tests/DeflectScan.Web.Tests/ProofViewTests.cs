using System.Globalization;
using System.Text.Json;
using Deque.AxeCore.Commons;
using Deque.AxeCore.Playwright;
using Microsoft.Playwright;

namespace DeflectScan.Web.Tests;

/// <summary>The proof by hand on the page: form, verdict, picture; by anyone, and nothing typed is lost.</summary>
[Collection(PageTests.Name)]
public class ProofViewTests(PageFixture page, BrowserFixture browser)
{
    [Fact]
    public Task ReadingsAreComparedAndASlipIsNamed() => ASlipIsNamed(phone: false);

    [Fact]
    [Trait("Set", "long")]
    public Task TheSameOnAPhone() => ASlipIsNamed(phone: true);

    private async Task ASlipIsNamed(bool phone)
    {
        await using Screen screen = await browser.Open(page.Server, phone ? Look.Phone : Look.Desk);
        await screen.Page.GotoAsync($"/photo/{page.Measured}");
        await screen.Page.ClickAsync("text=Prove by hand");
        ILocator compare = screen.Page.Locator(".proof-form button[type=submit]");
        await Assertions.Expect(compare).ToBeVisibleAsync();
        await Assertions.Expect(screen.Page.Locator(".caution")).ToContainTextAsync("eye protection");
        string key = (await page.Server.Photo(page.Measured)).GetProperty("key").GetString()!;
        using JsonDocument doc = JsonDocument.Parse(await page.Server.Http.GetStringAsync($"/api/photos/{page.Measured}/measurement/{key}.json"));
        double[] stations = [.. doc.RootElement.GetProperty("guides").EnumerateArray().Select(g => g.GetProperty("station_mm").GetDouble())];
        for (int g = 1; g <= 4; g++)
        {
            await Fill(screen, $"station-{g}-tip-reading", stations[g - 1]);
            await Fill(screen, $"station-{g}-tip-within", 1);
            await Fill(screen, $"station-{g}-{g + 1}-reading", stations[g - 1] - stations[g]);
            await Fill(screen, $"station-{g}-{g + 1}-within", 1);
        }

        await compare.ClickAsync();
        await Assertions.Expect(screen.Page.Locator(".proof-verdict .status")).ToHaveTextAsync("Photo and hand agree");
        await Assertions.Expect(screen.Page.Locator(".proof-picture circle.inside")).ToHaveCountAsync(8);
        await Assertions.Expect(screen.Page.Locator(".proof-keeping a")).ToHaveTextAsync("Keep the photo with a build first");
        await Fill(screen, "station-2-tip-reading", stations[1] + 100);
        await compare.ClickAsync();
        await Assertions.Expect(screen.Page.Locator(".proof-verdict .status")).ToHaveTextAsync("Photo and hand contradict each other");
        await Assertions.Expect(screen.Page.Locator(".proof-verdict ol li").First).ToContainTextAsync("slip of the pen");
        await Assertions.Expect(screen.Page.Locator(".proof-picture")).ToHaveAttributeAsync("aria-label", "8 readings against the photo; 1 outside the band that both uncertainties allow");
        await screen.Keep($"proof-{(phone ? "phone" : "desk")}");
        AxeResult found = await screen.Page.RunAxe(new AxeRunOptions { RunOnly = RunOnlyOptions.Tags("wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa") });
        Assert.True(found.Violations.Length == 0, string.Join('\n', found.Violations.Select(v => $"{v.Id}: {v.Nodes[0].Html}")));
        await screen.Page.ReloadAsync();
        Assert.Equal((stations[1] + 100).ToString("0.0", CultureInfo.InvariantCulture), await screen.Page.Locator("[name='station-2-tip-reading']").InputValueAsync());
        byte[] pdf = await page.Server.Http.GetByteArrayAsync(await screen.Page.GetAttributeAsync("text=Print the page for the bench", "href"));
        Assert.Equal("%PDF"u8.ToArray(), pdf[..4]);
    }

    [Fact]
    public async Task WhatIsNoLengthIsSaid()
    {
        await using Screen screen = await browser.Open(page.Server, Look.Desk);
        await screen.Page.GotoAsync($"/photo/{page.Measured}/proof");
        await screen.Page.FillAsync("[name='station-1-tip-reading']", "long");
        screen.Expected = 409;
        await screen.Page.ClickAsync(".proof-form button[type=submit]");
        await Assertions.Expect(screen.Page.Locator("#toast")).ToContainTextAsync("is no length");
    }

    private static Task Fill(Screen screen, string name, double mm) => screen.Page.FillAsync($"[name='{name}']", mm.ToString("0.0", CultureInfo.InvariantCulture));
}
