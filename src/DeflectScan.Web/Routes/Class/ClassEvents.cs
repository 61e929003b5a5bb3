using DeflectScan.Web.Measuring;
using Microsoft.AspNetCore.Http;

namespace DeflectScan.Web.Routes;

/// <summary>That something changed in a class, as it happens: whoever hears it asks anew, which a burst of changes makes it do once.</summary>
internal static class ClassEvents
{
    private static readonly TimeSpan Beat = TimeSpan.FromSeconds(20);

    /// <summary>Changes that come together are told together (chosen: a person sees no difference).</summary>
    private static readonly TimeSpan Together = TimeSpan.FromMilliseconds(250);

    public static async Task Stream(HttpContext http, Changes changes, string classId, CancellationToken ends)
    {
        using CancellationTokenSource gone = CancellationTokenSource.CreateLinkedTokenSource(http.RequestAborted, ends);
        http.Response.ContentType = "text/event-stream";
        http.Response.Headers.CacheControl = "no-store";
        using Changes.Listener ear = changes.Listen();
        try
        {
            await http.Response.WriteAsync(": here\n\n", gone.Token);
            await http.Response.Body.FlushAsync(gone.Token);
            while (!gone.IsCancellationRequested)
            {
                Task<bool> more = ear.Ids.WaitToReadAsync(gone.Token).AsTask();
                bool heard = await Task.WhenAny(more, Task.Delay(Beat, gone.Token)) == more && await more;
                if (heard)
                {
                    await Task.Delay(Together, gone.Token);
                    bool own = false;
                    while (ear.Ids.TryRead(out string? id))
                        own |= id == classId;
                    if (!own)
                        continue;
                }

                await http.Response.WriteAsync(heard ? "event: changed\ndata: {}\n\n" : ": still here\n\n", gone.Token);
                await http.Response.Body.FlushAsync(gone.Token);
            }
        }
        catch (OperationCanceledException)
        {
            // The page was closed, or the server ends.
        }
    }
}
