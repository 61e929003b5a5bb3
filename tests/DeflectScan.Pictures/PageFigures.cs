using DeflectScan.Measuring;
using DeflectScan.Scenes;
using DeflectScan.Web;
using DeflectScan.Web.Serving;
using Microsoft.Playwright;

namespace DeflectScan.Pictures;

/// <summary>The page as a browser shows it: every view at the size of a desk and of a phone, light and dark; some of them are the figures of docs/page.md.</summary>
internal static class PageFigures
{
    /// <summary>A view: its name, its address, what stands there when it is whole, and what is brought into sight first.</summary>
    private static readonly (string Name, string Address, string Whole, string? At)[] Views =
    [
        ("page", "/photo/{id}", ".strip svg", null),
        ("page-try", "/photo/{id}/try?a=5@402,a512", ".curve .point", null),
        ("page-tools", "/photo/{id}/try?a=5@402,a512", ".curve .point", ".try-spacing"),
        ("page-two", "/photo/{id}/try?a=5@420,6@290&b=5@402,a512&show=b", ".other-strip svg", null),
        ("page-start", "/start", ".rod-drawing", null),
        ("page-bench", "/", ".photo-row", null),
        ("page-follow", "/series/{last}?photo={last}", ".strip .before path", null),
        ("page-builds", "/builds", ".build-row", null),
        ("page-build", "/builds/{build}", ".tests li", null),
        ("page-compare", "/builds/{build}/compare", ".strip .before path", null),
    ];

    /// <summary>Those that docs/ shows, at the desk and light; and on the phone and dark.</summary>
    private static readonly string[] Desk = ["page", "page-try", "page-tools", "page-two", "page-start", "page-follow", "page-build"], Phone = ["page-try", "page-start"];

    public static async Task<int> Write(string output)
    {
        if (Program() is not { } program)
            return 1;
        string archive = Path.Combine(Path.GetTempPath(), "deflectscan-figures-" + Path.GetRandomFileName());
        try
        {
            await using PageServer server = await PageServer.Start(new ServeOptions(archive, 0, MeasureOptions.Default));
            using PageContents contents = await PageContents.Fill(server.Address);
            using IPlaywright playwright = await Playwright.CreateAsync();
            await using IBrowser browser = await playwright.Chromium.LaunchAsync(new BrowserTypeLaunchOptions { ExecutablePath = program, ChromiumSandbox = false });
            Directory.CreateDirectory(output);
            foreach (bool phone in new[] { false, true })
            {
                foreach (bool dark in new[] { false, true })
                    await Shoot(browser, server.Address, contents, output, phone, dark);
            }
        }
        finally
        {
            Directory.Delete(archive, recursive: true);
        }

        return 0;
    }

    /// <summary>The browser; null, and it is said, where there is none.</summary>
    public static string? Program()
    {
        string program = Environment.GetEnvironmentVariable("DEFLECTSCAN_CHROMIUM") is { Length: > 0 } told ? told : "/usr/bin/chromium";
        if (File.Exists(program))
            return program;
        Console.Error.WriteLine("This needs a browser: apt-get install chromium (or name one in DEFLECTSCAN_CHROMIUM).");
        return null;
    }

    private static async Task Shoot(IBrowser browser, string address, PageContents contents, string output, bool phone, bool dark)
    {
        await using IBrowserContext context = await browser.NewContextAsync(new BrowserNewContextOptions
        {
            BaseURL = address,
            ViewportSize = phone ? new ViewportSize { Width = 390, Height = 844 } : new ViewportSize { Width = 1440, Height = 900 },
            DeviceScaleFactor = phone ? 2 : 1,
            HasTouch = phone,
            IsMobile = phone,
            ColorScheme = dark ? ColorScheme.Dark : ColorScheme.Light,
            ReducedMotion = ReducedMotion.Reduce,
        });
        context.SetDefaultTimeout(120_000); // a machine may be busy
        IPage page = await context.NewPageAsync();
        foreach ((string name, string path, string whole, string? at) in Views)
        {
            await page.GotoAsync(contents.Address(path));
            await page.WaitForSelectorAsync(whole, new PageWaitForSelectorOptions { Timeout = 120_000 });
            await page.WaitForFunctionAsync("() => !document.querySelector('tr.live') && document.fonts.status === 'loaded' && [...document.images].every(i => i.complete)");
            if (at is not null)
                await page.EvaluateAsync("s => document.querySelector(s).scrollIntoView()", at);
            await page.WaitForTimeoutAsync(300);
            byte[] bytes = await page.ScreenshotAsync(new PageScreenshotOptions { Type = ScreenshotType.Jpeg, Quality = 84 });
            await File.WriteAllBytesAsync(Path.Combine(output, $"{name}-{(phone ? "phone" : "desk")}-{(dark ? "dark" : "light")}.jpg"), bytes);
            if (!phone && !dark && Desk.Contains(name))
                await File.WriteAllBytesAsync(Figure(name), bytes);
            if (phone && dark && Phone.Contains(name))
                await File.WriteAllBytesAsync(Figure(name + "-phone"), bytes);
        }
    }

    private static string Figure(string name) => Path.Combine(Repository.Root, "docs", "figures", name + ".jpg");
}
