using System.Text.Json;
using DeflectScan.Findings;
using DeflectScan.Web.Correcting;
using DeflectScan.Web.Measuring;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Http.Features;
using Microsoft.AspNetCore.Routing;

namespace DeflectScan.Web.Routes;

/// <summary>Corrections of a photo: one more, one back, one forth.</summary>
internal static class CorrectionRoutes
{
    private const long MaxBytes = 4096;

    public static void Map(IEndpointRouteBuilder routes, Bench bench)
    {
        routes.MapPost("/api/photos/{id}/corrections", (HttpContext http) => Answers.WithPhoto(http, bench, photo => Correct(http, bench, photo)));
        routes.MapPost("/api/photos/{id}/undo", (HttpContext http) => Answers.WithPhoto(http, bench, photo => Step(http, bench, photo, back: true)));
        routes.MapPost("/api/photos/{id}/redo", (HttpContext http) => Answers.WithPhoto(http, bench, photo => Step(http, bench, photo, back: false)));
    }

    private static async Task Correct(HttpContext http, Bench bench, BenchPhoto photo)
    {
        if (http.Features.Get<IHttpMaxRequestBodySizeFeature>() is { IsReadOnly: false } limit)
            limit.MaxRequestBodySize = MaxBytes;
        try
        {
            Correction correction = await JsonSerializer.DeserializeAsync(http.Request.Body, MarksJson.Default.Correction, http.RequestAborted)
                ?? throw new InputException("No correction was sent.");
            bench.Correct(photo, correction);
            await Answers.Json(http, PhotoView.Of(photo, Answers.Unit(http)), PageJson.Default.PhotoView);
        }
        catch (JsonException)
        {
            await Answers.Refuse(http, StatusCodes.Status400BadRequest, "The correction is not as this page sends it: load the page anew.");
        }
        catch (InputException e)
        {
            await Answers.Refuse(http, StatusCodes.Status409Conflict, e.Message);
        }
    }

    private static Task Step(HttpContext http, Bench bench, BenchPhoto photo, bool back)
    {
        bench.Step(photo, back);
        return Answers.Json(http, PhotoView.Of(photo, Answers.Unit(http)), PageJson.Default.PhotoView);
    }
}
