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

/// <summary>A measured photo against readings by hand: the page to fill in, and what the readings say. Nothing is kept.</summary>
internal static class ProofRoutes
{
    private const int MostReadings = 200;

    public static void Map(IEndpointRouteBuilder routes, Bench bench)
    {
        routes.MapGet("/api/photos/{id}/proof/{key}/sheet.pdf", (HttpContext http) => At(http, bench, m => Sheet(http, m)));
        routes.MapPost("/api/photos/{id}/proof/{key}", (HttpContext http) => At(http, bench, m => Compare(http, m)));
    }

    private static Task At(HttpContext http, Bench bench, Func<Measurement, Task> then) => Answers.WithPhoto(http, bench, photo =>
        http.Request.RouteValues["key"] is string key && PhotoRoutes.IsKey(key) && bench.Folder.Result(photo.Stored.Id, Bench.DocumentName(key)) is { } document
            ? then(MeasurementJson.Read(Encoding.UTF8.GetString(document)))
            : Answers.Refuse(http, StatusCodes.Status404NotFound, "There is no such measurement of this photo."));

    private static Task Sheet(HttpContext http, Measurement m)
    {
        if (MeasuredLayout.Of(m).Value is not { Rings.Count: <= 31 } rod)
            return Answers.Refuse(http, StatusCodes.Status409Conflict, "This photo has no layout that a page could be printed for.");
        http.Response.Headers.ContentDisposition = "inline; filename=\"proof.pdf\"";
        SheetPaper paper = http.Request.Query["paper"] == "letter" ? SheetPaper.Letter : SheetPaper.A4;
        return Answers.Bytes(http, ProofSheet.Draw(rod, m.Photo?.FileName ?? "photo", paper, Answers.Unit(http)), "application/pdf");
    }

    private static async Task Compare(HttpContext http, Measurement m)
    {
        if (await Answers.BodyOrRefusal(http) is not { } body)
            return;
        LengthUnit unit = Answers.Unit(http);
        (IReadOnlyList<HandReading> readings, string? problem) = Read(body, unit);
        Outcome<ProofReport> proof = problem is null ? ProofRule.Of(m, readings) : Outcome<ProofReport>.Refused(FindingCode.FileUnreadable, problem);
        if (proof.Value is not { } report)
        {
            await Answers.Refuse(http, StatusCodes.Status409Conflict, PageWords.Of(proof.Findings[0].Message, unit));
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

    // What the form sent: {readings: [{what, from, to, reading, within}]}, texts as typed.
    private static (IReadOnlyList<HandReading> Readings, string? Problem) Read(JsonObject body, LengthUnit unit)
    {
        List<HandReading> all = [];
        foreach (JsonNode? node in body["readings"] as JsonArray ?? [])
        {
            if (node is not JsonObject r || all.Count >= MostReadings)
                return ([], "What was sent is not as this page sends it: load the page anew.");
            string typed = Text(r, "reading"), within = Text(r, "within");
            int from = r["from"] is JsonValue f && f.TryGetValue(out int first) ? first : 0;
            int? to = r["to"] is JsonValue t && t.TryGetValue(out int second) ? second : null;
            ReadingKind kind = Text(r, "what") == "gap" ? ReadingKind.Gap : ReadingKind.Station;
            if (HandReading.Of(kind, from, to, typed, within, unit) is not { } reading)
                return ([], $"\"{typed}\"{(within.Length > 0 ? $" ± \"{within}\"" : "")} is no length: write it as 612, 612mm or 24 1/8in.");
            all.Add(reading);
        }

        return all.Count > 0 ? (all, null) : ([], "Fill in at least one reading.");
    }

    private static string Text(JsonObject r, string name) => r[name] is JsonValue v && v.TryGetValue(out string? text) && text.Length <= 40 ? text : "";
}
