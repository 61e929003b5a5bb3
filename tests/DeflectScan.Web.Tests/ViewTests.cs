using System.Text.Json;
using Deque.AxeCore.Commons;
using Deque.AxeCore.Playwright;
using Microsoft.Playwright;

namespace DeflectScan.Web.Tests;

/// <summary>The views as a person meets them: on a desk and a phone, light and dark, by mouse, touch and keys.</summary>
[Collection(PageTests.Name)]
public class ViewTests(PageFixture page, BrowserFixture browser)
{
    public static TheoryData<string, bool, bool> Views() => Shown(IsOften);

    public static TheoryData<string, bool, bool> OtherViews() => Shown((view, phone, dark) => !IsOften(view, phone, dark));

    // Every view on a light desk, those of the bench on a dark phone besides; two layouts are the view of one with a second list.
    private static bool IsOften(string view, bool phone, bool dark) => phone == dark && (phone ? view is "bench" or "photo" or "try" : view is not "try-two");

    private static TheoryData<string, bool, bool> Shown(Func<string, bool, bool, bool> wanted)
    {
        TheoryData<string, bool, bool> all = [];
        foreach (string view in new[] { "bench", "photo", "refused", "try", "try-two", "start", "enter", "projector" })
        {
            foreach (bool phone in new[] { false, true })
            {
                foreach (bool dark in new[] { false, true }.Where(d => wanted(view, phone, d)))
                    all.Add(view, phone, dark);
            }
        }

        return all;
    }

    /// <summary>The same at the other size and light: minutes, so by hand.</summary>
    [Theory]
    [Trait("Set", "long")]
    [MemberData(nameof(OtherViews))]
    public Task NothingIsInTheWayInOtherSizesAndLightEither(string view, bool phone, bool dark) => NothingIsInTheWayOfPeopleWhoSeeOrMoveDifferently(view, phone, dark);

    [Theory]
    [MemberData(nameof(Views))]
    public async Task NothingIsInTheWayOfPeopleWhoSeeOrMoveDifferently(string view, bool phone, bool dark)
    {
        await using Screen screen = await browser.Open(page.Server, new Look(phone, dark));
        await Show(screen, view);
        if (view is "photo" or "try" && phone)
            await screen.Page.ClickAsync(".fold summary");
        await screen.Page.EvaluateAsync("document.fonts.ready");
        AxeResult found = await screen.Page.RunAxe(new AxeRunOptions { RunOnly = RunOnlyOptions.Tags("wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa") });
        Assert.Empty(found.Violations.SelectMany(v => v.Nodes.Select(n => $"{v.Id}: {n.Html} {string.Join(' ', n.Any.Select(a => a.Message))}")));
        await screen.Keep($"{view}-{(phone ? "phone" : "desk")}-{(dark ? "dark" : "light")}");
    }

    private async Task Show(Screen screen, string view)
    {
        (string address, string there) = view switch
        {
            "bench" => ("/", ".photo-row"),
            "refused" => ($"/photo/{page.Refused}", "h1"),
            "try" => ($"/photo/{page.Measured}/try?a=5@402.3,a512", ".try-notes li"),
            "try-two" => ($"/photo/{page.Measured}/try?a=5@402.3&b=x6&show=b", ".other-strip svg"),
            "start" => ("/start", ".rod-drawing"),
            "enter" => ("/enter", "#code"),
            _ => ($"/photo/{page.Measured}", ".strip svg"),
        };
        if (view == "projector")
            await screen.Page.AddInitScriptAsync("localStorage.setItem('deflectscan.type', 'large')");
        await screen.Page.GotoAsync(address);
        await screen.Page.WaitForSelectorAsync(there, new PageWaitForSelectorOptions { Timeout = 60_000 });
        if (view.StartsWith("try", StringComparison.Ordinal))
            await screen.Page.WaitForSelectorAsync(".curve .point", new PageWaitForSelectorOptions { Timeout = 60_000 });
    }

    [Fact]
    public async Task NothingLeavesTheMachineAndTheFirstStartIsLight()
    {
        await using Screen screen = await browser.Open(page.Server, Look.Desk);
        long bytes = 0;
        List<Task> sizes = [];
        screen.Page.Response += (_, response) =>
        {
            if (!response.Url.Contains("/api/", StringComparison.Ordinal))
                sizes.Add(Task.Run(async () => Interlocked.Add(ref bytes, (await response.BodyAsync()).Length)));
        };
        await screen.ShowPhoto(page.Measured);
        await screen.Page.EvaluateAsync("document.fonts.ready");
        await Task.WhenAll(sizes);
        Assert.All(screen.Requests, r => Assert.StartsWith(page.Server.Server.Address, r, StringComparison.Ordinal));
        Assert.InRange(bytes, 50_000, 400_000);
    }

    [Fact]
    public async Task APairChosenInOnePlaceLightsInAllAndInTheAddress()
    {
        await using Screen screen = await browser.Open(page.Server, Look.Desk);
        await screen.ShowPhoto(page.Measured);
        await screen.Page.ClickAsync("table.figures >> nth=0 >> text=2 to 3");
        Assert.EndsWith("?pair=2", screen.Page.Url, StringComparison.Ordinal);
        await Chosen(2);
        await screen.Page.FocusAsync(".strip [data-pair='4']");
        await screen.Page.Keyboard.PressAsync("Enter");
        await Chosen(4);
        await screen.Page.ReloadAsync();
        await screen.Page.WaitForSelectorAsync(".strip svg");
        await Chosen(4);

        async Task Chosen(int from)
        {
            await Assertions.Expect(screen.Page.Locator($".strip .pair.chosen[data-pair='{from}']")).ToHaveCountAsync(1);
            await Assertions.Expect(screen.Page.Locator("tr.chosen th")).ToContainTextAsync($"{from} to");
            await Assertions.Expect(screen.Page.Locator($".marks polyline.line.chosen[data-from='{from}']").First).ToBeAttachedAsync();
        }
    }

    [Fact]
    public async Task LargeTypeForAProjectorIsRemembered()
    {
        await using Screen screen = await browser.Open(page.Server, Look.Desk);
        await screen.Page.SetViewportSizeAsync(1280, 720);
        await screen.ShowPhoto(page.Measured);
        float before = await Size();
        await screen.Page.ClickAsync("text=Settings");
        await screen.Page.ClickAsync("label:has-text('for a projector')");
        await screen.Page.ReloadAsync();
        await screen.Page.WaitForSelectorAsync(".strip svg");
        Assert.InRange(await Size() / before, 1.45, 1.55);
        await screen.Keep("projector-1280");

        Task<float> Size() => screen.Page.EvaluateAsync<float>("parseFloat(getComputedStyle(document.querySelector('h1')).fontSize)");
    }

    [Fact]
    public async Task InchesAreRemembered()
    {
        await using Screen screen = await browser.Open(page.Server, Look.Desk);
        await screen.ShowPhoto(page.Measured);
        await screen.Page.ClickAsync("text=Settings");
        await screen.Page.ClickAsync("label:has-text('inches')");
        await Assertions.Expect(screen.Page.Locator("h1")).ToContainTextAsync(" in");
        await screen.Page.ReloadAsync();
        await Assertions.Expect(screen.Page.Locator("h1")).ToContainTextAsync(" in");
        await Assertions.Expect(screen.Page.Locator("table.figures caption").First).ToContainTextAsync("inches");
    }

    [Fact]
    public async Task ThePhotoIsZoomedAboutThePointerByWheelAndKeys()
    {
        await using Screen screen = await browser.Open(page.Server, Look.Desk);
        await screen.ShowPhoto(page.Measured);
        (float X, float Y) four = await Middle(4);
        (float X, float Y) seven = await Middle(7);
        (float x, float y) = (MathF.Round(four.X) + 3, MathF.Round(four.Y) + 2);
        await screen.Page.Mouse.MoveAsync(x, y);
        for (int i = 0; i < 6; i++)
            await screen.Page.Mouse.WheelAsync(0, -240);
        (float X, float Y) nearer = await Middle(4);
        float times = ((await Middle(7)).X - nearer.X) / (seven.X - four.X);
        Assert.InRange(times, 4, 30);
        Assert.InRange(nearer.X, x + (times * (four.X - x)) - 1, x + (times * (four.X - x)) + 1); // what lies under the pointer stays there
        Assert.InRange(nearer.Y, y + (times * (four.Y - y)) - 1, y + (times * (four.Y - y)) + 1);
        await screen.Page.WaitForSelectorAsync(".tile"); // and comes in the photo's own pixels
        await screen.Page.FocusAsync(".photo-frame");
        await screen.Page.Keyboard.PressAsync("0");
        Assert.InRange((await Middle(4)).X, four.X - 1, four.X + 1);

        async Task<(float X, float Y)> Middle(int ring)
        {
            LocatorBoundingBoxResult box = (await screen.Page.Locator($"[data-ring='{ring}'] .mark").BoundingBoxAsync())!;
            return (box.X + (box.Width / 2), box.Y + (box.Height / 2));
        }
    }

    [Fact]
    public async Task APhotoChosenIsMeasuredBeforeOnesEyes()
    {
        await using TestServer own = await TestServer.Start();
        await using Screen screen = await browser.Open(own, Look.Phone);
        await screen.Page.GotoAsync("/");
        await Assertions.Expect(screen.Page.Locator(".caution")).ToContainTextAsync("90 degrees");
        await screen.Page.SetInputFilesAsync("input[type=file] >> nth=1", new FilePayload
        {
            Name = "<b onclick=alert(1)>rod.jpg", MimeType = "image/jpeg", Buffer = await File.ReadAllBytesAsync(TestServer.TestPhoto("bad-tip-cropped")),
        });
        await Assertions.Expect(screen.Page.Locator("h1")).ToContainTextAsync("tip lies outside the photo", new LocatorAssertionsToContainTextOptions { Timeout = 120_000 });
        await Assertions.Expect(screen.Page.Locator(".status")).ToHaveTextAsync("Not measured");
        await screen.Page.ClickAsync("text=All photos");
        await Assertions.Expect(screen.Page.Locator(".photo-row .name")).ToHaveTextAsync("b onclick=alert(1)rod.jpg");
        await screen.Page.ClickAsync("text=Set aside");
        await Assertions.Expect(screen.Page.Locator(".photo-row")).ToHaveCountAsync(0);
        await screen.Page.ClickAsync("#toast >> text=Undo");
        await Assertions.Expect(screen.Page.Locator(".photo-row")).ToHaveCountAsync(1);
    }
}
