using Microsoft.Playwright;

namespace DeflectScan.Web.Tests;

/// <summary>Debian's chromium, driven by Playwright. Where it is missing, every test that needs it says so.</summary>
public sealed class BrowserFixture : IAsyncLifetime
{
    private IPlaywright? _playwright;
    private IBrowser? _browser;

    public async Task InitializeAsync()
    {
        if (Program() is not { } program)
            return;
        Assertions.SetDefaultExpectTimeout(30_000); // a machine may be busy; times are held by the speed tests
        _playwright = await Playwright.CreateAsync();
        _browser = await _playwright.Chromium.LaunchAsync(new BrowserTypeLaunchOptions
        {
            ExecutablePath = program, Headless = true, ChromiumSandbox = false, Args = ["--disable-gpu", "--disable-dev-shm-usage"],
        });
    }

    public async Task DisposeAsync()
    {
        if (_browser is not null)
            await _browser.DisposeAsync();
        _playwright?.Dispose();
    }

    /// <summary>A page of its own, with nothing remembered. What goes wrong in its scripts fails the test that closes it.</summary>
    public async Task<Screen> Open(TestServer server, Look look)
    {
        Assert.True(_browser is not null, "This test needs a browser: apt-get install chromium (or name one in DEFLECTSCAN_CHROMIUM).");
        IBrowserContext context = await _browser.NewContextAsync(new BrowserNewContextOptions
        {
            BaseURL = server.Server.Address,
            ViewportSize = look.IsPhone ? new ViewportSize { Width = 390, Height = 844 } : new ViewportSize { Width = 1440, Height = 900 },
            DeviceScaleFactor = look.IsPhone ? 2 : 1,
            HasTouch = look.IsPhone,
            IsMobile = look.IsPhone,
            ColorScheme = look.IsDark ? ColorScheme.Dark : ColorScheme.Light,
            ReducedMotion = ReducedMotion.Reduce,
        });
        return await Screen.Of(context);
    }

    private static string? Program() => Environment.GetEnvironmentVariable("DEFLECTSCAN_CHROMIUM") is { Length: > 0 } told
        ? told
        : new[] { "/usr/bin/chromium", "/usr/bin/chromium-browser", "/usr/bin/google-chrome" }.FirstOrDefault(File.Exists);
}

/// <summary>How a view is looked at.</summary>
public sealed record Look(bool IsPhone, bool IsDark)
{
    public static Look Desk { get; } = new(false, false);

    public static Look Phone { get; } = new(true, false);
}

/// <summary>A browser's page under test.</summary>
public sealed class Screen : IAsyncDisposable
{
    private readonly IBrowserContext _context;

    private Screen(IBrowserContext context, IPage page)
    {
        (_context, Page) = (context, page);
        page.PageError += (_, error) => Faults.Add(error);
        page.Console += (_, message) =>
        {
            if (message.Type == "error" && !(Expected is { } status && message.Text.Contains($"status of {status}", StringComparison.Ordinal)))
                Faults.Add(message.Text);
        };
        page.Request += (_, request) => Requests.Add(request.Url);
    }

    public IPage Page { get; }

    /// <summary>Errors of the page's scripts.</summary>
    public List<string> Faults { get; } = [];

    /// <summary>The status of refusals that belong to the test; the browser tells each as an error.</summary>
    public int? Expected { get; set; }

    /// <summary>Every address that was asked for.</summary>
    public List<string> Requests { get; } = [];

    public static async Task<Screen> Of(IBrowserContext context) => new(context, await context.NewPageAsync());

    /// <summary>Opens a photo's page and waits until its figures stand there.</summary>
    public async Task ShowPhoto(string id, string more = "")
    {
        await Page.GotoAsync($"/photo/{id}{more}");
        await Page.WaitForSelectorAsync(".strip svg", new PageWaitForSelectorOptions { Timeout = 60_000 });
    }

    /// <summary>Keeps a picture of what is seen, for people: out/page/NAME.png.</summary>
    public async Task Keep(string name, bool isWhole = false)
    {
        string folder = Path.Combine(Scenes.Repository.Root, "out", "page");
        Directory.CreateDirectory(folder);
        await Page.ScreenshotAsync(new PageScreenshotOptions { Path = Path.Combine(folder, name + ".png"), FullPage = isWhole });
    }

    public async ValueTask DisposeAsync()
    {
        await _context.DisposeAsync();
        Assert.Empty(Faults);
    }
}
