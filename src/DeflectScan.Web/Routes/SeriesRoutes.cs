using System.Text.Json.Nodes;
using DeflectScan.Geometry;
using DeflectScan.Records.Comparing;
using DeflectScan.Records.Reports;
using DeflectScan.Reporting.Json;
using DeflectScan.Web.Measuring;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Routing;

namespace DeflectScan.Web.Routes;

/// <summary>Photos of one rod, one after another: what changed from each to the next, the target, what was set on the one before.</summary>
internal static class SeriesRoutes
{
    public static void Map(IEndpointRouteBuilder routes, Bench bench)
    {
        BenchSeries series = new(bench);
        routes.MapGet("/api/series", (HttpContext http) => Answers.Node(http, new JsonArray([.. series.All().Select(s => (JsonNode)InShort(s, Answers.Unit(http)))])));
        routes.MapGet("/api/series/{id}", (HttpContext http) => With(http, series, id => series.Of(id), found => Answers.Node(http, Whole(found.Series, series, Answers.Unit(http)))));
        routes.MapPost("/api/series/{id}/target", (HttpContext http) => With(http, series, id => series.Of(id), found => SetTarget(http, series, found.Series)));
        routes.MapGet("/api/photos/{id}/series", (HttpContext http) => Answers.WithPhoto(http, bench, photo => Answers.Node(http, Since(bench, series, photo, Answers.Unit(http)))));
        routes.MapPost("/api/photos/{id}/carry", (HttpContext http) => Answers.WithPhoto(http, bench, photo => Carry(http, bench, series, photo)));
    }

    private static Task With<T>(HttpContext http, BenchSeries series, Func<string, T?> find, Func<T, Task> then)
        where T : struct => http.Request.RouteValues["id"] is string id && find(id) is { } found
        ? then(found)
        : Answers.Refuse(http, StatusCodes.Status404NotFound, "There is no such series on this bench: go back to the list.");

    private static JsonObject InShort(IReadOnlyList<(BenchPhoto Photo, SeriesPhoto Measured)> series, LengthUnit unit)
    {
        (BenchPhoto last, _) = series[^1];
        PhotoView view = PhotoView.Of(last, unit);
        return new JsonObject
        {
            ["id"] = series[0].Photo.Stored.Id, ["count"] = series.Count, ["since"] = series[0].Photo.Stored.ReceivedAt, ["last"] = last.Stored.Id, ["name"] = last.Stored.Name,
            ["status"] = view.Status, ["headline"] = view.Headline?.Answer,
        };
    }

    private static JsonObject Whole(IReadOnlyList<(BenchPhoto Photo, SeriesPhoto Measured)> series, BenchSeries all, LengthUnit unit)
    {
        double? target = all.TargetMm(series[0].Photo.Stored.Id);
        return new JsonObject
        {
            ["id"] = series[0].Photo.Stored.Id,
            ["target_mm"] = target,
            ["photos"] = new JsonArray([.. series.Select((p, i) => (JsonNode)Photo(p.Photo, p.Measured, i == 0 ? null : series[i - 1].Photo, target, unit))]),
        };
    }

    private static JsonObject Photo(BenchPhoto photo, SeriesPhoto measured, BenchPhoto? before, double? target, LengthUnit unit)
    {
        PhotoView view = PhotoView.Of(photo, unit);
        IntervalReport? worst = measured.Measurement.SureWorst();
        return new JsonObject
        {
            ["id"] = view.Id, ["name"] = view.Name, ["received_at"] = view.ReceivedAt, ["key"] = view.Key, ["status"] = view.Status, ["headline"] = view.Headline?.Answer,
            ["says"] = view.Headline?.Status,
            ["worst"] = worst is null ? null : new JsonObject { ["from"] = worst.From, ["to"] = worst.To, ["bow_mm"] = worst.BowMm, ["bow_uncertainty_mm"] = worst.Bow.UncertaintyMm },
            ["against_target"] = target is not { } mm ? null : new JsonArray([.. BowTarget.Of(measured.Measurement, mm).Select(p => (JsonNode)new JsonObject
            {
                ["from"] = p.Pair.From, ["to"] = p.Pair.To, ["bow_mm"] = p.Pair.BowMm, ["bow_uncertainty_mm"] = p.Pair.Bow.UncertaintyMm,
                ["is"] = p.Is switch { AgainstTarget.Above => "above", AgainstTarget.Met => "met", _ => "open" },
            })]),
            ["step"] = measured.Step is null || before is null ? null : Step(measured.Step, before.Stored.Id, view.Id, unit),
        };
    }

    /// <summary>What <c>records compare --json</c> says, and its sentences in the unit that is asked for.</summary>
    private static JsonObject Step(Comparison c, string before, string after, LengthUnit unit)
    {
        JsonObject step = ComparisonJson.Of(c, before, after);
        step["changes"] = new JsonArray([.. c.Changes.Select(s => (JsonNode)UnitsInSentences.Of(s, unit))]);
        step["headline"] = UnitsInSentences.Of(StepWords.Headline(c), unit);
        return step;
    }

    private static JsonObject Since(Bench bench, BenchSeries series, BenchPhoto photo, LengthUnit unit)
    {
        JsonObject answer = [];
        BenchPhoto? before = series.Before(photo);
        if (series.Of(photo.Stored.Id) is var (own, at))
        {
            (answer["series"], answer["number"], answer["count"]) = (own[0].Photo.Stored.Id, at + 1, own.Count);
            if (own[at].Measured.Step is { } step)
                answer["step"] = Step(step, own[at - 1].Photo.Stored.Id, photo.Stored.Id, unit);
        }

        if (before is not null && CarriedMarks.From(bench, before, photo) is { } carried)
        {
            answer["proposal"] = new JsonObject
            {
                ["says"] = carried.Says, ["places"] = new JsonArray([.. carried.PlacesPx.Select(p => (JsonNode)new JsonArray(p.X, p.Y))]),
            };
        }

        return answer;
    }

    private static async Task SetTarget(HttpContext http, BenchSeries all, IReadOnlyList<(BenchPhoto Photo, SeriesPhoto Measured)> series)
    {
        all.SetTarget(series[0].Photo.Stored.Id, Sent.Number(await Answers.Body(http), "mm"));
        await Answers.Node(http, Whole(series, all, Answers.Unit(http)));
    }

    private static Task Carry(HttpContext http, Bench bench, BenchSeries series, BenchPhoto photo)
    {
        if (series.Before(photo) is not { } before || CarriedMarks.From(bench, before, photo) is not { } carried)
            return Answers.Refuse(http, StatusCodes.Status409Conflict, "There is nothing on the photo before to take over any more.");
        bench.TakeOver(photo, carried.State);
        return Answers.Json(http, PhotoView.Of(photo, Answers.Unit(http)), PageJson.Default.PhotoView);
    }
}
