using Deque.AxeCore.Commons;
using Deque.AxeCore.Playwright;
using Microsoft.Playwright;

namespace DeflectScan.Web.Tests;

/// <summary>The class as people meet it: the board at a projector's size and on a phone, the student's phone.</summary>
[Collection(PageTests.Name)]
public class ClassViewTests(BrowserFixture browser)
{
    private static readonly string[] Names = ["Alma", "Bruno", "Celia", "Darek", "Edda", "Fabio", "Greta"];

    private static async Task<ClassServer> Class()
    {
        ClassServer held = await ClassServer.Start();
        for (int i = 0; i < Names.Length; i++)
        {
            using StudentPhone phone = new(held.Server.Server);
            using HttpResponseMessage joined = await phone.Join(held.Code, Names[i]);
            await phone.SendOne(ClassServer.Photo(i));
        }

        await held.Set("{\"target\":6,\"sameBlank\":true}");
        await held.Filled(Names.Length);
        return held;
    }

    private static async Task Look(Screen screen, string name)
    {
        await screen.Page.EvaluateAsync("document.fonts.ready");
        AxeResult found = await screen.Page.RunAxe(new AxeRunOptions { RunOnly = RunOnlyOptions.Tags("wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa") });
        await screen.Keep(name, isWhole: true);
        Assert.InRange(await screen.Page.EvaluateAsync<double>("document.documentElement.scrollWidth - innerWidth"), -1e9, 0); // nothing lies beside the screen
        Assert.Empty(found.Violations.SelectMany(v => v.Nodes.Select(n => $"{v.Id}: {n.Html} {string.Join(' ', n.Any.Select(a => a.Message))}")));
    }

    [Fact]
    public Task TheBoardStandsInNobodysWay() => BoardIsLookedAt(phone: false, dark: false);

    [Theory]
    [Trait("Set", "long")]
    [InlineData(false, true)]
    [InlineData(true, false)]
    public Task TheBoardInOtherLightAndOnAPhone(bool phone, bool dark) => BoardIsLookedAt(phone, dark);

    private async Task BoardIsLookedAt(bool phone, bool dark)
    {
        await using ClassServer held = await Class();
        await using Screen screen = await browser.Open(held.Server, new Look(phone, dark));
        if (!phone)
            await screen.Page.SetViewportSizeAsync(1280, 720);
        await screen.Page.GotoAsync($"/classes/{held.Id}");
        await screen.Page.WaitForSelectorAsync(".board-strip", new PageWaitForSelectorOptions { Timeout = 60_000 });
        await Look(screen, $"class-{(phone ? "phone" : "projector")}-{(dark ? "dark" : "light")}");
        if (!phone)
        {
            await screen.Page.ClickAsync("button:has-text('Projector')");
            Assert.EndsWith("?projector", screen.Page.Url, StringComparison.Ordinal);
            await Assertions.Expect(screen.Page.Locator(".wall-head")).ToContainTextAsync("bow, mm");
            double used = await screen.Page.EvaluateAsync<double>("(() => { const bars = [...document.querySelectorAll('.board-strip .bar')].map(b => b.getBoundingClientRect().width); return Math.max(...bars) / document.querySelector('.rod-strip').getBoundingClientRect().width; })()");
            Assert.True(used > 0.85, $"the longest strip takes {used:0.00} of its room on the wall");
            await Look(screen, $"class-wall-{(dark ? "dark" : "light")}");
            await screen.Page.Keyboard.PressAsync("Escape");
        }

        await screen.Page.ClickAsync("text=Show the code");
        await Assertions.Expect(screen.Page.Locator(".phone-panel strong")).ToHaveTextAsync(held.Code);
        await Look(screen, $"class-code-{(phone ? "phone" : "projector")}-{(dark ? "dark" : "light")}");
    }

    [Fact]
    public async Task AnyTwoAreComparedOnOneAxisByKeys()
    {
        await using ClassServer held = await Class();
        await using Screen screen = await browser.Open(held.Server, DeflectScan.Web.Tests.Look.Desk);
        await screen.Page.SetViewportSizeAsync(1280, 720);
        await screen.Page.GotoAsync($"/classes/{held.Id}");
        await screen.Page.WaitForSelectorAsync(".board-strip", new PageWaitForSelectorOptions { Timeout = 60_000 });
        await screen.Page.FocusAsync("[aria-label='Compare Bruno']");
        await screen.Page.Keyboard.PressAsync("Enter");
        await screen.Page.FocusAsync("[aria-label='Compare Edda']");
        await screen.Page.Keyboard.PressAsync("Enter");
        await screen.Page.WaitForSelectorAsync(".two-rods .before");
        await Assertions.Expect(screen.Page.Locator(".two-rods h2")).ToHaveTextAsync("Edda, and dashed Bruno");
        await screen.Page.WaitForTimeoutAsync(200);
        await Look(screen, "class-two-projector");
    }

    [Fact]
    public async Task TheBoardChangesWithoutAReload()
    {
        await using ClassServer held = await ClassServer.Start();
        await using Screen screen = await browser.Open(held.Server, DeflectScan.Web.Tests.Look.Desk);
        await screen.Page.GotoAsync($"/classes/{held.Id}");
        await Assertions.Expect(screen.Page.Locator(".board .empty")).ToBeVisibleAsync();
        using StudentPhone phone = new(held.Server.Server);
        using HttpResponseMessage joined = await phone.Join(held.Code, "Anna");
        await phone.SendOne(ClassServer.Photo(1));
        await Assertions.Expect(screen.Page.Locator(".rod .board-strip")).ToHaveCountAsync(1, new LocatorAssertionsToHaveCountOptions { Timeout = 30_000 });
        await screen.Page.ClickAsync("text=Hide names");
        await Assertions.Expect(screen.Page.Locator(".rod-name > :first-child")).ToHaveTextAsync("Rod 1");
    }

    [Fact]
    public async Task AStudentComesInSendsAndReads()
    {
        await using ClassServer held = await ClassServer.Start();
        await using Screen screen = await browser.Open(held.Server, DeflectScan.Web.Tests.Look.Phone);
        screen.Expected = 401;
        await screen.Page.GotoAsync($"/class#{held.Code}");
        await screen.Page.FillAsync("#name", "Anna");
        await Look(screen, "student-door");
        await screen.Page.ClickAsync("button[type=submit]");
        await screen.Page.WaitForSelectorAsync(".tries");
        Assert.EndsWith("/class", screen.Page.Url, StringComparison.Ordinal); // the code is out of the address
        await screen.Page.Locator("input[type=file]").Last.SetInputFilesAsync(new FilePayload { Name = "p.jpg", MimeType = "image/jpeg", Buffer = ClassServer.Photo(1) });
        await Assertions.Expect(screen.Page.Locator(".sending")).ToContainTextAsync("was removed from it first", new LocatorAssertionsToContainTextOptions { Timeout = 30_000 });
        await Assertions.Expect(screen.Page.Locator(".try-card .answer")).ToBeVisibleAsync(new LocatorAssertionsToBeVisibleOptions { Timeout = 30_000 });
        await held.Set("{\"boardShown\":true}");
        await Assertions.Expect(screen.Page.Locator(".student-board .own")).ToContainTextAsync("Anna (you)", new LocatorAssertionsToContainTextOptions { Timeout = 30_000 });
        await Look(screen, "student-phone");
    }

    [Fact]
    public async Task AClassIsMadeAndDeletedOnThePage()
    {
        await using ClassServer held = await ClassServer.Start();
        await using Screen screen = await browser.Open(held.Server, DeflectScan.Web.Tests.Look.Desk);
        await screen.Page.GotoAsync("/classes");
        await screen.Page.FillAsync("#class-name", "Sunday");
        await screen.Page.ClickAsync("text=Make a class");
        await screen.Page.WaitForSelectorAsync(".class-tools");
        await screen.Page.ClickAsync("summary:has-text('More')");
        await screen.Page.ClickAsync("text=Delete this class");
        await Assertions.Expect(screen.Page.Locator(".going")).ToContainTextAsync("This goes for good: Sunday");
        await screen.Page.ClickAsync("text=Delete wholly");
        await screen.Page.WaitForSelectorAsync(".class-list li");
        await Assertions.Expect(screen.Page.Locator(".class-list li")).ToHaveCountAsync(1);
        await Look(screen, "classes-desk");
    }
}
