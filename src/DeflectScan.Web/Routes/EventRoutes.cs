using System.Text.Json;
using DeflectScan.Web.Measuring;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Routing;

namespace DeflectScan.Web.Routes;

/// <summary>What happens to the photos and the archive, as it happens: server-sent events, one a change; a photo comes as it then is, the rest is asked for anew.</summary>
internal static class EventRoutes
{
    private static readonly TimeSpan Beat = TimeSpan.FromSeconds(20);

    public static void Map(IEndpointRouteBuilder routes, Bench bench, CancellationToken ends) =>
        routes.MapGet("/api/events", (HttpContext http) => Stream(http, bench, ends));

    private static async Task Stream(HttpContext http, Bench bench, CancellationToken ends)
    {
        using CancellationTokenSource gone = CancellationTokenSource.CreateLinkedTokenSource(http.RequestAborted, ends);
        http.Response.ContentType = "text/event-stream";
        http.Response.Headers.CacheControl = "no-store";
        using Changes.Listener ear = bench.Changes.Listen();
        try
        {
            await http.Response.WriteAsync(": here\n\n", gone.Token);
            await http.Response.Body.FlushAsync(gone.Token);
            while (!gone.IsCancellationRequested)
            {
                Task<bool> more = ear.Ids.WaitToReadAsync(gone.Token).AsTask();
                if (await Task.WhenAny(more, Task.Delay(Beat, gone.Token)) == more && await more)
                    await Say(http, bench, ear, gone.Token);
                else
                    await http.Response.WriteAsync(": still here\n\n", gone.Token);
                await http.Response.Body.FlushAsync(gone.Token);
            }
        }
        catch (OperationCanceledException)
        {
            // The page was closed, or the server ends.
        }
    }

    private static async Task Say(HttpContext http, Bench bench, Changes.Listener ear, CancellationToken cancel)
    {
        HashSet<string> ids = [];
        while (ear.Ids.TryRead(out string? id))
            ids.Add(id);
        foreach (string other in new[] { Changes.Archive, Changes.Watch }.Where(ids.Remove))
            await http.Response.WriteAsync($"event: {other}\ndata: {{}}\n\n", cancel);
        foreach (BenchPhoto photo in ids.Select(bench.Find).OfType<BenchPhoto>())
        {
            string view = JsonSerializer.Serialize(PhotoView.Of(photo, Answers.Unit(http)), PageJson.Default.PhotoView);
            await http.Response.WriteAsync($"event: photo\ndata: {view}\n\n", cancel);
        }
    }
}
