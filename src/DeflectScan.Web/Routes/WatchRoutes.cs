using DeflectScan.Web.Guarding;
using DeflectScan.Web.Measuring;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Routing;

namespace DeflectScan.Web.Routes;

/// <summary>The folder whose photos come in by themselves. A phone is told its name and not where it lies.</summary>
internal static class WatchRoutes
{
    public static void Map(IEndpointRouteBuilder routes, WatchedFolder? watched) => routes.MapGet("/api/watch", (HttpContext http) =>
    {
        WatchView now = watched?.Now ?? WatchView.Nothing;
        return Answers.Json(http, RequestGuard.IsThisMachine(http) ? now : now with { Folder = Path.GetFileName(now.Folder) }, PageJson.Default.WatchView);
    });
}
