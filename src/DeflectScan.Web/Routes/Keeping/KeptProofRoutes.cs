using System.Text.Json.Nodes;
using DeflectScan.Findings;
using DeflectScan.Proving;
using DeflectScan.Records.Keeping;
using DeflectScan.Web.Measuring;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Routing;

namespace DeflectScan.Web.Routes;

/// <summary>Keeping a proof with a build, as <c>proof --build</c> does: which builds can take it, and keeping it.</summary>
internal static class KeptProofRoutes
{
    public static void Map(IEndpointRouteBuilder routes, ArchiveDoor door, Bench bench)
    {
        routes.MapGet("/api/photos/{id}/proof/{key}/builds", (HttpContext http) => ProofRoutes.At(http, bench, m => door.Read(http, reader => Answers.Node(http, new JsonObject
        {
            ["builds"] = new JsonArray([.. ProofKeeping.BuildsOf(reader, m).Select(b => (JsonNode)new JsonObject { ["id"] = b.Id, ["name"] = b.Name })]),
        }))));
        routes.MapPost("/api/photos/{id}/proof/{key}/keep", (HttpContext http) => ProofRoutes.At(http, bench, m => Keep(http, door, bench, m)));
    }

    private static async Task Keep(HttpContext http, ArchiveDoor door, Bench bench, Measurement m)
    {
        JsonObject sent = await Answers.Body(http);
        await door.Write(http, writer =>
        {
            ProofReport report = InputException.Unless(ProofRoutes.Compared(sent, m, Answers.Unit(http)));
            string build = writer.Reader.Resolve(Sent.Text(sent, "build") ?? "");
            ProofKeeping.Add(writer, build, m, report);
            return BuildView.Of(writer.Reader.Build(build)!, bench);
        });
    }
}
