using DeflectScan.Measuring;
using DeflectScan.Scenes;
using DeflectScan.Web;
using DeflectScan.Web.Serving;
using Microsoft.Playwright;

namespace DeflectScan.Pictures;

/// <summary>The class as a browser shows it: the board on a projector and on a phone, the door, a student's result; some are the figures of docs/class.md.</summary>
internal static class ClassFigures
{
    public static async Task<int> Write(string output)
    {
        if (PageFigures.Program() is not { } program)
            return 1;
        string archive = Path.Combine(Path.GetTempPath(), "deflectscan-class-" + Path.GetRandomFileName());
        try
        {
            await using PageServer server = await PageServer.Start(new ServeOptions(archive, 0, MeasureOptions.Default) { IsForPhones = true });
            ClassContents contents = await ClassContents.Fill(server.Address);
            using IPlaywright playwright = await Playwright.CreateAsync();
            await using IBrowser browser = await playwright.Chromium.LaunchAsync(new BrowserTypeLaunchOptions { ExecutablePath = program, ChromiumSandbox = false });
            Directory.CreateDirectory(output);
            string board = $"/classes/{contents.Id}";
            foreach (bool dark in new[] { false, true })
            {
                string light = dark ? "dark" : "light";
                await using IBrowserContext wall = await browser.NewContextAsync(Sized(server.Address, 1280, 720, phone: false, dark));
                IPage page = await wall.NewPageAsync();
                await Shoot(page, board, ".board-strip", output, $"class-board-{light}", dark ? null : "class-board");
                await Shoot(page, board + "?projector", ".board-strip", output, $"class-wall-{light}", dark ? null : "class-wall");
                await page.GotoAsync(board);
                await page.ClickAsync("[aria-label='Compare Bruno']");
                await page.ClickAsync("[aria-label='Compare Alma']");
                await Shoot(page, null, ".two-rods .before", output, $"class-two-{light}", null, ".two-rods");
                await page.ClickAsync("text=Show the code");
                await Shoot(page, null, ".phone-panel img", output, $"class-code-{light}", null, ".class-tools");

                await using IBrowserContext own = await browser.NewContextAsync(Sized(server.Address, 390, 844, phone: true, dark));
                await Shoot(await own.NewPageAsync(), board, ".board-strip", output, $"class-board-phone-{light}", null);
                await using IBrowserContext nobody = await browser.NewContextAsync(Sized(server.Address, 390, 844, phone: true, dark));
                await Shoot(await nobody.NewPageAsync(), $"/class#{contents.Code}", ".enter", output, $"class-door-{light}", null);
                foreach ((string student, string? figure) in new[] { ("Alma", dark ? null : "class-phone"), ("Ilse", null), ("Greta", null) })
                {
                    await using IBrowserContext phone = await browser.NewContextAsync(Sized(server.Address, 390, 844, phone: true, dark));
                    await phone.AddCookiesAsync([new Cookie { Name = contents.Phones[student].Name, Value = contents.Phones[student].Value, Url = server.Address }]);
                    IPage seen = await phone.NewPageAsync();
                    await Shoot(seen, "/class", ".try-card .state", output, $"class-student-{student}-{light}", figure, ".who");
                    await Shoot(seen, null, ".student-board li", output, $"class-student-{student}-board-{light}", null, student == "Ilse" ? ".student-board li" : ".student-board .own"); // hers is refused and stands on no board
                }
            }
        }
        finally
        {
            Directory.Delete(archive, recursive: true);
        }

        return 0;
    }

    private static BrowserNewContextOptions Sized(string address, int width, int height, bool phone, bool dark) => new()
    {
        BaseURL = address,
        ViewportSize = new ViewportSize { Width = width, Height = height },
        DeviceScaleFactor = phone ? 2 : 1,
        HasTouch = phone,
        IsMobile = phone,
        ColorScheme = dark ? ColorScheme.Dark : ColorScheme.Light,
        ReducedMotion = ReducedMotion.Reduce,
    };

    private static async Task Shoot(IPage page, string? address, string whole, string output, string name, string? figure, string? at = null)
    {
        page.SetDefaultTimeout(120_000); // a machine may be busy
        if (address is not null)
            await page.GotoAsync(address);
        await page.WaitForSelectorAsync(whole);
        await page.WaitForFunctionAsync("() => document.fonts.status === 'loaded' && [...document.images].every(i => i.complete || i.loading === 'lazy')");
        if (at is not null)
            await page.EvaluateAsync("s => document.querySelector(s).scrollIntoView()", at);
        await page.WaitForTimeoutAsync(300);
        byte[] bytes = await page.ScreenshotAsync(new PageScreenshotOptions { Type = ScreenshotType.Jpeg, Quality = 84 });
        await File.WriteAllBytesAsync(Path.Combine(output, name + ".jpg"), bytes);
        if (figure is not null)
            await File.WriteAllBytesAsync(Path.Combine(Repository.Root, "docs", "figures", figure + ".jpg"), bytes);
    }
}
