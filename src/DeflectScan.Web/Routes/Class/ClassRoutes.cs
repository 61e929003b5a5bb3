using System.Net;
using System.Text;
using System.Text.Json.Nodes;
using DeflectScan.Reporting.Boards;
using DeflectScan.Reporting.Csv;
using DeflectScan.Reporting.Json;
using DeflectScan.Reporting.Sheets;
using DeflectScan.Teaching;
using DeflectScan.Web.Guarding;
using DeflectScan.Web.Measuring;
using DeflectScan.Web.Teaching;
using DeflectScan.Web.Words;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Routing;

namespace DeflectScan.Web.Routes;

/// <summary>Classes for the instructor: making one, its board, what is set, what is taken along, taking it away.</summary>
internal static class ClassRoutes
{
    public static void Map(IEndpointRouteBuilder routes, ClassBench classes, bool isForPhones, CancellationToken ends)
    {
        routes.MapGet("/api/classes", (HttpContext http) => Answers.Node(http, new JsonArray([.. classes.Rooms.All.Select(r => (JsonNode?)ClassViews.Listed(r))])));
        routes.MapPost("/api/classes", (HttpContext http) => Make(http, classes));
        routes.MapGet("/api/classes/{id}", (HttpContext http) => With(http, classes, room => Show(http, classes, room, isForPhones)));
        routes.MapPost("/api/classes/{id}", (HttpContext http) => With(http, classes, room => Set(http, classes, room, isForPhones)));
        routes.MapGet("/api/classes/{id}/code.png", (HttpContext http) => With(http, classes, room => Link(http, room) is { } link
            ? Answers.Bytes(http, Invitation.Picture(link), "image/png")
            : Answers.Refuse(http, StatusCodes.Status404NotFound, "This machine is on no network that a phone could come over.")));
        routes.MapGet("/api/classes/{id}/events", (HttpContext http) => With(http, classes, room => ClassEvents.Stream(http, classes.Changes, room.Id, ends)));
        routes.MapGet("/api/classes/{id}/going", (HttpContext http) => With(http, classes, room => Answers.Node(http, new JsonObject { ["says"] = classes.Deletion.Of(room).ToString() })));
        routes.MapPost("/api/classes/{id}/delete", (HttpContext http) => With(http, classes, room => Delete(http, classes, room)));
        routes.MapGet("/api/classes/{id}/{file}", (HttpContext http) => With(http, classes, room => Download(http, classes, room)));
    }

    /// <summary>What the QR code says: the code stands behind #, which no browser sends on.</summary>
    private static string? Link(HttpContext http, ClassRoom room) =>
        Invitation.OwnAddresses().FirstOrDefault() is { } address ? $"http://{address}:{http.Connection.LocalPort}/class#{room.Code}" : null;

    private static Task Show(HttpContext http, ClassBench classes, ClassRoom room, bool isForPhones)
    {
        JsonObject board = ClassViews.Board(classes, room, Answers.Unit(http));
        board["code"] = room.Code;
        board["address"] = isForPhones && Link(http, room) is { } link ? link[..link.IndexOf('#', StringComparison.Ordinal)] : null;
        board["says"] = !isForPhones ? PageWords.Of("Phones can come in when the page is served to phones.", Answers.Unit(http))
            : Link(http, room) is null ? "This machine is on no network that a phone could come over: connect it, then load this page anew." : null;
        return Answers.Node(http, board);
    }

    private static async Task Make(HttpContext http, ClassBench classes)
    {
        JsonObject body = await Answers.Body(http);
        string title = body["title"] is JsonValue v && v.TryGetValue(out string? given) ? CleanText.Line(given, 80) : "";
        if (title.Length == 0)
            await Answers.Refuse(http, StatusCodes.Status400BadRequest, "Give the class a name.");
        else
            await Answers.Node(http, ClassViews.Listed(classes.Rooms.Make(title)), StatusCodes.Status201Created);
    }

    private static async Task Set(HttpContext http, ClassBench classes, ClassRoom room, bool isForPhones)
    {
        room.Set(room.Facts.With(await Answers.Body(http)));
        classes.Changes.Say(room.Id);
        await Show(http, classes, room, isForPhones);
    }

    private static async Task Delete(HttpContext http, ClassBench classes, ClassRoom room)
    {
        string says = classes.Deletion.Of(room).ToString();
        classes.Deletion.Delete(room);
        classes.Changes.Say(room.Id);
        await Answers.Node(http, new JsonObject { ["says"] = $"Gone: {says}" });
    }

    private static Task Download(HttpContext http, ClassBench classes, ClassRoom room)
    {
        ClassReport report = classes.Report(room);
        Geometry.LengthUnit unit = Answers.Unit(http);
        return (string?)http.Request.RouteValues["file"] switch
        {
            ClassBook.Html => Saved(http, Encoding.UTF8.GetBytes(BoardHtml.Write(report, unit)), "text/html; charset=utf-8", ClassBook.Html),
            ClassBook.Pdf => Saved(http, Board.Pdf(report, SheetPaper.A4, unit), "application/pdf", ClassBook.Pdf),
            ClassBook.Png => Saved(http, Board.Png(report, unit), "image/png", ClassBook.Png),
            ClassBook.Csv => Saved(http, ClassCsv.Write(report), "text/csv; charset=utf-8", ClassBook.Csv),
            ClassBook.Json => Saved(http, Encoding.UTF8.GetBytes(ClassJson.Write(report)), "application/json; charset=utf-8", ClassBook.Json),
            _ => Answers.Refuse(http, StatusCodes.Status404NotFound, "There is nothing at this address."),
        };
    }

    private static Task Saved(HttpContext http, byte[] bytes, string type, string name)
    {
        http.Response.Headers.ContentDisposition = $"attachment; filename=\"{name}\"";
        return Answers.Bytes(http, bytes, type);
    }

    /// <summary>Does something with the class of the address, or says that there is none.</summary>
    public static Task With(HttpContext http, ClassBench classes, Func<ClassRoom, Task> then) =>
        http.Request.RouteValues["id"] is string id && classes.Rooms.Find(id) is { } room
            ? then(room)
            : Answers.Refuse(http, StatusCodes.Status404NotFound, "There is no such class: go back to the list.");
}
