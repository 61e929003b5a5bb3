using System.Text.Json;
using DeflectScan.Findings;
using DeflectScan.Web.Measuring;
using DeflectScan.Web.Trying;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Routing;

namespace DeflectScan.Web.Routes;

/// <summary>The layout that a person settled on: accepted, taken back, shown.</summary>
internal static class AcceptRoutes
{
    private const int LongestTitle = 120;
    private const int LongestLayout = 2000;

    public static void Map(IEndpointRouteBuilder routes, Bench bench)
    {
        routes.MapGet("/api/photos/{id}/accepted", (HttpContext http) => Answers.WithPhoto(http, bench, photo => Show(http, Of(bench, photo))));
        routes.MapPost("/api/photos/{id}/accepted", (HttpContext http) => Answers.WithPhoto(http, bench, photo => Accept(http, bench, photo)));
        routes.MapPost("/api/photos/{id}/accepted/back", (HttpContext http) => Answers.WithPhoto(http, bench, photo =>
        {
            AcceptedLayouts accepted = Of(bench, photo);
            accepted.TakeBack();
            return Show(http, accepted);
        }));
    }

    private static async Task Accept(HttpContext http, Bench bench, BenchPhoto photo)
    {
        AcceptRequest? request;
        try
        {
            request = await JsonSerializer.DeserializeAsync(http.Request.Body, PageJson.Default.AcceptRequest, http.RequestAborted);
            if (request is { Layout.Length: <= LongestLayout } && request.Of is { } key && PhotoRoutes.IsKey(key) && bench.Folder.Result(photo.Stored.Id, Bench.DocumentName(key)) is not null)
            {
                string title = string.Concat((request.Title ?? "").Where(c => !char.IsControl(c))).Trim();
                AcceptedLayouts accepted = Of(bench, photo);
                accepted.Accept(new AcceptedLayout(
                    key, TriedLayout.Write(TriedLayout.Read(request.Layout)), title.Length is > 0 and <= LongestTitle ? title : photo.Stored.Name, TimeProvider.System.GetUtcNow()));
                await Show(http, accepted);
                return;
            }
        }
        catch (Exception e) when (e is JsonException or InputException)
        {
            // Said below: it is not what the page sends.
        }

        await Answers.Refuse(http, StatusCodes.Status400BadRequest, "The layout is not as this page sends it: load the page anew.");
    }

    private static AcceptedLayouts Of(Bench bench, BenchPhoto photo) => new(Path.Combine(bench.Folder.FolderOf(photo.Stored.Id), "layouts.jsonl"));

    private static Task Show(HttpContext http, AcceptedLayouts accepted) => Answers.Json(http, new AcceptedView(accepted.Now), PageJson.Default.AcceptedView);
}

/// <summary>What the page sends to accept a layout.</summary>
internal sealed record AcceptRequest(string? Of, string? Layout, string? Title);

/// <summary>The accepted layout; null where none is.</summary>
internal sealed record AcceptedView(AcceptedLayout? Accepted);
