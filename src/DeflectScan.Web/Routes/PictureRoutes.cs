using System.Globalization;
using DeflectScan.Web.Measuring;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Routing;

namespace DeflectScan.Web.Routes;

/// <summary>A photo's overview and tiles.</summary>
internal static class PictureRoutes
{
    public static void Map(IEndpointRouteBuilder routes, Bench bench)
    {
        routes.MapGet("/api/photos/{id}/overview.jpg", (HttpContext http) => Answers.WithPhoto(http, bench, photo => Picture(http, bench.Photos.Overview(photo.Stored))));
        routes.MapGet("/api/photos/{id}/tiles/{level:int}/{column:int}/{row:int}.jpg", (HttpContext http) => Answers.WithPhoto(
            http, bench, photo => Picture(http, bench.Photos.Tile(photo.Stored, Number(http, "level"), Number(http, "column"), Number(http, "row")))));
    }

    private static int Number(HttpContext http, string name) =>
        int.TryParse((string?)http.Request.RouteValues[name], NumberStyles.None, CultureInfo.InvariantCulture, out int value) ? value : -1;

    private static Task Picture(HttpContext http, byte[]? bytes) => bytes is null
        ? Answers.Refuse(http, StatusCodes.Status404NotFound, "There is no such picture.")
        : Answers.Lasting(http, bytes, "image/jpeg");
}
