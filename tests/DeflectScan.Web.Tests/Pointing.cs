using Microsoft.Playwright;

namespace DeflectScan.Web.Tests;

/// <summary>Dragging by mouse, or by a finger through the browser's own input.</summary>
internal static class Pointing
{
    public static async Task Drag(Screen screen, bool touch, (float X, float Y) from, (float X, float Y) by, Func<Task>? meanwhile = null)
    {
        if (!touch)
        {
            await screen.Page.Mouse.MoveAsync(from.X, from.Y);
            await screen.Page.Mouse.DownAsync();
            await screen.Page.Mouse.MoveAsync(from.X + by.X, from.Y + by.Y, new MouseMoveOptions { Steps = 6 });
            await (meanwhile?.Invoke() ?? Task.CompletedTask);
            await screen.Page.Mouse.UpAsync();
            return;
        }

        ICDPSession input = await screen.Page.Context.NewCDPSessionAsync(screen.Page);
        await Send("touchStart", from.X, from.Y);
        for (int i = 1; i <= 6; i++)
            await Send("touchMove", from.X + (by.X * i / 6), from.Y + (by.Y * i / 6));
        await (meanwhile?.Invoke() ?? Task.CompletedTask);
        await input.SendAsync("Input.dispatchTouchEvent", new Dictionary<string, object> { ["type"] = "touchEnd", ["touchPoints"] = Array.Empty<object>() });

        Task Send(string type, float x, float y) => input.SendAsync("Input.dispatchTouchEvent", new Dictionary<string, object>
        {
            ["type"] = type, ["touchPoints"] = new[] { new Dictionary<string, object> { ["x"] = x, ["y"] = y } },
        });
    }

    /// <summary>The middle of what a selector finds, brought into sight.</summary>
    public static async Task<(float X, float Y)> Middle(Screen screen, string selector)
    {
        await screen.Page.EvaluateAsync("s => document.querySelector(s).scrollIntoView({ block: 'center', inline: 'center' })", selector);
        LocatorBoundingBoxResult box = (await screen.Page.Locator(selector).First.BoundingBoxAsync())!;
        return (box.X + (box.Width / 2), box.Y + (box.Height / 2));
    }
}
