using System.Text.Json.Nodes;
using DeflectScan.Findings;
using DeflectScan.Geometry;
using DeflectScan.Records;
using DeflectScan.Records.Finding;
using DeflectScan.Records.Keeping;
using DeflectScan.Records.Model;
using DeflectScan.Records.Reports;
using DeflectScan.Web.Measuring;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Routing;

namespace DeflectScan.Web.Routes;

/// <summary>Builds: the list, the reference book, one of them, what is said of it.</summary>
internal static class BuildRoutes
{
    private const int MostOnPage = 100;

    public static void Map(IEndpointRouteBuilder routes, ArchiveDoor door, Bench bench)
    {
        routes.MapGet("/api/builds", (HttpContext http) => door.Read(http, reader => Answers.Node(http, List(http, reader))));
        routes.MapGet("/api/builds/find", (HttpContext http) => door.Read(http, reader => Answers.Node(http, Find(http, reader))));
        routes.MapGet("/api/builds/{id}", (HttpContext http) => door.Read(http, reader => Answers.Node(http, BuildView.Of(Asked.Build(http, reader), bench))));
        routes.MapPost("/api/builds", (HttpContext http) => Change(http, door, (writer, sent) => BuildKeeping.Add(writer, InputException.Unless(BuildFactsJson.Read(sent, null))), bench));
        routes.MapPost("/api/builds/{id}/facts", (HttpContext http) => ChangeOne(http, door, bench, (writer, build, sent) => BuildKeeping.Revise(
            writer, build.Id, Sent.IsTrue(sent, "guides_as_measured") ? BuildKeeping.AsMeasured(writer.Reader, build) : InputException.Unless(BuildFactsJson.Read(sent, build.Facts)))));
        routes.MapPost("/api/builds/{id}/notes", (HttpContext http) => ChangeOne(http, door, bench, (writer, build, sent) =>
            writer.AddNote(build.Id, BuildView.Kind(Sent.Text(sent, "kind")), Sent.Text(sent, "text") ?? "")));
        routes.MapPost("/api/builds/{id}/layouts", (HttpContext http) => ChangeOne(http, door, bench, (writer, build, sent) => LayoutKeeping.Add(
            writer, build.Id, Sent.Text(sent, "name") ?? "", Sent.Text(sent, "from") == "suggested" ? LayoutSource.Suggested : LayoutSource.Measured)));
        routes.MapPost("/api/builds/{id}/choose", (HttpContext http) => ChangeOne(http, door, bench, (writer, build, sent) =>
            LayoutKeeping.Choose(writer, build.Id, Sent.Text(sent, "layout") ?? "")));
        routes.MapPost("/api/builds/{id}/start", (HttpContext http) => ChangeOne(http, door, bench, Start));
    }

    /// <summary>Changes one build and answers with it.</summary>
    public static async Task ChangeOne(HttpContext http, ArchiveDoor door, Bench bench, Action<ArchiveWriter, Build, JsonObject> change)
    {
        JsonObject sent = await Answers.Body(http);
        await door.Write(http, writer =>
        {
            Build build = Asked.Build(http, writer.Reader);
            change(writer, build, sent);
            return BuildView.Of(writer.Reader.Build(build.Id)!, bench);
        });
    }

    private static async Task Change(HttpContext http, ArchiveDoor door, Func<ArchiveWriter, JsonObject, string> change, Bench bench)
    {
        JsonObject sent = await Answers.Body(http);
        await door.Write(http, writer => BuildView.Of(writer.Reader.Build(change(writer, sent))!, bench));
    }

    private static JsonObject List(HttpContext http, ArchiveReader reader)
    {
        const int Usual = 25;
        (int page, int size) = (Asked.Whole(http, "page", 1, 1_000_000, 1), Asked.Whole(http, "size", 1, MostOnPage, Usual));
        if (Asked.Text(http, "words") is { } words)
        {
            IReadOnlyList<FoundBuild> found = reader.Find(new FindQuery { Text = words, Limit = MostOnPage });
            return new JsonObject { ["page"] = 1, ["pages"] = 1, ["count"] = found.Count, ["builds"] = new JsonArray([.. found.Select(f => (JsonNode)SummaryJson.Of(f.Build))]) };
        }

        ListQuery query = new() { Order = Order(http), Owner = Asked.Text(http, "owner"), Use = Asked.Text(http, "use"), Side = Side(http) };
        int count = reader.Count(query);
        return new JsonObject
        {
            ["page"] = page, ["pages"] = Math.Max(1, (count + size - 1) / size), ["count"] = count,
            ["builds"] = new JsonArray([.. reader.List(page, size, query).Select(b => (JsonNode)SummaryJson.Of(b))]),
        };
    }

    internal static ListOrder Order(HttpContext http) =>
        Asked.Text(http, "sort") is not { } sort ? ListOrder.Changed : Enum.TryParse(sort, ignoreCase: true, out ListOrder order) && Enum.IsDefined(order)
            ? order
            : throw new InputException("The list is not sorted by that: go back to the builds and choose an order.");

    private static string? Side(HttpContext http) => Asked.Text(http, "side") is { } side ? SideText.Of(SideText.Read(side)) ?? throw new InputException("A side is inside or outside: choose one of them.") : null;

    private static JsonObject Find(HttpContext http, ArchiveReader reader) => new()
    {
        ["found"] = new JsonArray([.. reader.Find(Query(http, reader)).Select(f => (JsonNode)new JsonObject
        {
            ["likeness"] = Math.Round(f.Likeness, 4), ["reason"] = UnitsInSentences.Of(f.Reason, Answers.Unit(http)), ["build"] = SummaryJson.Of(f.Build),
        })]),
    };

    private static FindQuery Query(HttpContext http, ArchiveReader reader)
    {
        FindQuery query = new()
        {
            Text = Asked.Text(http, "words"), BlankLengthMm = Asked.Number(http, "length"), TipTurnDeg = Asked.Number(http, "turn"), Line = Asked.Text(http, "line"),
            ReelClass = Asked.Whole(http, "reel", 1, 1_000_000), Side = Side(http), Use = Asked.Text(http, "use"),
        };
        if (Asked.Text(http, "like") is { } like)
            query = query.Like(reader.Build(reader.Resolve(like))!);
        return query.FirstProblem() is { } problem ? throw new InputException(problem) : query;
    }

    /// <summary>A layout for this build from another one, or from the one that is most like it.</summary>
    private static void Start(ArchiveWriter writer, Build build, JsonObject sent)
    {
        ArchiveReader reader = writer.Reader;
        IReadOnlyList<FoundBuild> found = Sent.Text(sent, "from") is { } from
            ? [.. reader.Find(new FindQuery { Limit = MostOnPage * MostOnPage }.Like(build)).Where(f => f.Build.Id == from)]
            : reader.Find(new FindQuery().Like(build));
        (double? reelToTipMm, int? reduction) = (Sent.Number(sent, "reel_to_tip_mm"), Sent.Whole(sent, "reduction"));
        StartSearch.Keep(writer, build.Id, StartSearch.Start(reader, found, null, build.Id, reelToTipMm, reduction));
    }
}
