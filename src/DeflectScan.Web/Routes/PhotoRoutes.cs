using DeflectScan.Web.Measuring;
using DeflectScan.Web.Storing;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Http.Features;
using Microsoft.AspNetCore.Routing;

namespace DeflectScan.Web.Routes;

/// <summary>The photos of the bench: the list, one of them, taking one in, setting one aside, its document.</summary>
internal static class PhotoRoutes
{
    public static void Map(IEndpointRouteBuilder routes, Bench bench, ServeOptions options)
    {
        routes.MapGet("/api/photos", (HttpContext http) => Answers.Json(
            http, [.. bench.Listed().Select(p => PhotoView.Of(p, Answers.Unit(http)))], PageJson.Default.ListPhotoView));
        routes.MapPost("/api/photos", (HttpContext http) => Take(http, bench, options));
        routes.MapGet("/api/photos/{id}", (HttpContext http) => Answers.WithPhoto(http, bench, photo => Show(http, photo)));
        routes.MapPost("/api/photos/{id}/cancel", (HttpContext http) => Changed(http, bench, bench.Cancel));
        routes.MapPost("/api/photos/{id}/measure", (HttpContext http) => Changed(http, bench, photo => bench.Ask(photo, isCorrection: true)));
        routes.MapPost("/api/photos/{id}/aside", (HttpContext http) => Changed(http, bench, photo => bench.SetAside(photo, true)));
        routes.MapPost("/api/photos/{id}/back", (HttpContext http) => Changed(http, bench, photo => bench.SetAside(photo, false)));
        routes.MapGet("/api/photos/{id}/measurement/{key}.json", (HttpContext http) => Answers.WithPhoto(http, bench, photo => Document(http, bench, photo, Bench.DocumentName)));
        routes.MapGet("/api/photos/{id}/map/{key}.json", (HttpContext http) => Answers.WithPhoto(http, bench, photo => Document(http, bench, photo, Bench.MapName)));
    }

    private static Task Show(HttpContext http, BenchPhoto photo, int status = StatusCodes.Status200OK) =>
        Answers.Json(http, PhotoView.Of(photo, Answers.Unit(http)), PageJson.Default.PhotoView, status);

    private static Task Changed(HttpContext http, Bench bench, Action<BenchPhoto> change) => Answers.WithPhoto(http, bench, photo =>
    {
        change(photo);
        return Show(http, photo);
    });

    private static async Task Take(HttpContext http, Bench bench, ServeOptions options)
    {
        if (http.Features.Get<IHttpMaxRequestBodySizeFeature>() is { IsReadOnly: false } limit)
            limit.MaxRequestBodySize = options.MaxUploadBytes + 1;
        if (http.Request.ContentLength > options.MaxUploadBytes)
        {
            await Answers.Refuse(http, StatusCodes.Status413PayloadTooLarge, new UploadTooLargeException(options.MaxUploadBytes).Message);
            return;
        }

        if (bench.Waiting >= options.MaxWaiting)
        {
            await Answers.Refuse(http, StatusCodes.Status429TooManyRequests, "Many photos are waiting to be measured: send this one when some of them are done.");
            return;
        }

        try
        {
            (BenchPhoto photo, bool isNew) = await bench.Take(http.Request.Body, FileNames.Clean(http.Request.Query["name"]), http.RequestAborted);
            await Show(http, photo, isNew ? StatusCodes.Status201Created : StatusCodes.Status200OK);
        }
        catch (UploadTooLargeException e)
        {
            await Answers.Refuse(http, StatusCodes.Status413PayloadTooLarge, e.Message);
        }
    }

    private static Task Document(HttpContext http, Bench bench, BenchPhoto photo, Func<string, string> name) =>
        http.Request.RouteValues["key"] is string key && IsKey(key) && bench.Folder.Result(photo.Stored.Id, name(key)) is { } bytes
            ? Answers.Lasting(http, bytes, "application/json; charset=utf-8")
            : Answers.Refuse(http, StatusCodes.Status404NotFound, "There is no such measurement of this photo.");

    internal static bool IsKey(string key) => key == "read" || (key.Length == 16 && key.All(char.IsAsciiHexDigitLower));
}
