using System.Text;
using System.Text.Json.Nodes;
using DeflectScan.Desk;
using DeflectScan.Findings;
using DeflectScan.Geometry;
using DeflectScan.Proving;
using DeflectScan.Reporting.Json;
using DeflectScan.Reporting.Sheets;
using DeflectScan.Web.Measuring;
using DeflectScan.Web.Words;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Routing;

namespace DeflectScan.Web.Routes;

/// <summary>A measured photo against readings by hand: the page to fill in, and what the readings say. Nothing is kept here: <see cref="KeptProofRoutes"/> does.</summary>
internal static class ProofRoutes
{
    public static void Map(IEndpointRouteBuilder routes, Bench bench)
    {
        routes.MapGet("/api/photos/{id}/proof/{key}/sheet.pdf", (HttpContext http) => At(http, bench, m => Sheet(http, m)));
        routes.MapPost("/api/photos/{id}/proof/{key}", (HttpContext http) => At(http, bench, m => Compare(http, m)));
    }

    /// <summary>Does something with the measurement of the address, or says that there is none.</summary>
    public static Task At(HttpContext http, Bench bench, Func<Measurement, Task> then) => Answers.WithPhoto(http, bench, photo =>
        http.Request.RouteValues["key"] is string key && PhotoRoutes.IsKey(key) && bench.Folder.Result(photo.Stored.Id, Bench.DocumentName(key)) is { } document
            ? then(MeasurementJson.Read(Encoding.UTF8.GetString(document)).OrDamaged())
            : Answers.Refuse(http, StatusCodes.Status404NotFound, "There is no such measurement of this photo."));

    /// <summary>The proof that the readings of a form come to: {readings: [{what, from, to, reading, within}]}, texts as typed.</summary>
    /// <exception cref="InputException">It is not such a form.</exception>
    public static Outcome<ProofReport> Compared(JsonObject sent, Measurement m, LengthUnit unit) =>
        ProofForm.Read([.. (sent["readings"] as JsonArray ?? []).Select(Typed)], unit).Then(read => ProofRule.Of(m, read));

    private static Task Sheet(HttpContext http, Measurement m) => Answers.OrRefusal(http, MeasuredLayout.Of(m), rod =>
    {
        if (ProofForm.PaperProblem(rod.Rings.Count) is { } problem)
            return Answers.Refuse(http, StatusCodes.Status409Conflict, problem);
        http.Response.Headers.ContentDisposition = "inline; filename=\"proof.pdf\"";
        return Answers.Bytes(http, ProofSheet.Draw(rod, m.Photo?.FileName ?? "photo", Paper.Asked(http), "Then: type the readings in on this photo's page, under \"Prove by hand\".", Answers.Unit(http)), "application/pdf");
    });

    private static async Task Compare(HttpContext http, Measurement m)
    {
        LengthUnit unit = Answers.Unit(http);
        Outcome<ProofReport> proof = Compared(await Answers.Body(http), m, unit);
        if (proof.Value is not { } report)
        {
            await Answers.Refuse(http, StatusCodes.Status409Conflict, proof.Findings[0].Message);
            return;
        }

        JsonObject answer = ProofJson.Of(report, m);
        answer["says"] = new JsonArray([.. report.Says.Select(s => (JsonNode)JsonValue.Create(PageWords.Of(s, unit)))]);
        foreach ((JsonNode? node, NamedCause cause) in answer["causes"]!.AsArray().Zip(report.Causes))
        {
            node!["says"] = PageWords.Of(cause.Says, unit);
            node["do"] = PageWords.Of(cause.Do, unit);
        }

        foreach ((JsonNode? node, ComparedReading reading) in answer["readings"]!.AsArray().Zip(report.Readings))
            node!["name"] = reading.Reading.Name;
        await Answers.Node(http, answer);
    }

    private static TypedReading Typed(JsonNode? node)
    {
        JsonObject r = node as JsonObject ?? [];
        return new TypedReading(
            Sent.Text(r, "what") == "gap" ? ReadingKind.Gap : ReadingKind.Station, Sent.Whole(r, "from") ?? 0, Sent.Whole(r, "to"), Sent.Text(r, "reading") ?? "", Sent.Text(r, "within") ?? "");
    }
}
