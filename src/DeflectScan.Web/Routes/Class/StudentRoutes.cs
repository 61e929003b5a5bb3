using System.Text.Json.Nodes;
using DeflectScan.Findings;
using DeflectScan.Photos;
using DeflectScan.Web.Measuring;
using DeflectScan.Web.Teaching;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Http.Features;
using Microsoft.AspNetCore.Routing;

namespace DeflectScan.Web.Routes;

/// <summary>What a student's phone may ask: coming in with the class's code, sending a photo, its own photos and what came of them, and the board when it is shown.</summary>
internal static class StudentRoutes
{
    public const string Cookie = "deflectscan-class";

    /// <summary>Largest photo that a phone may send here, bytes: three times what a phone's of 50 megapixels takes (chosen).</summary>
    private const int MostBytes = 40_000_000;

    /// <summary>Photos that are taken in at once: they are held in memory until the place is out of them.</summary>
    private static readonly SemaphoreSlim AtOnce = new(8);

    public static void Map(IEndpointRouteBuilder routes, ClassBench classes, Bench bench, ServeOptions options, CancellationToken ends)
    {
        ClassDoor door = new(TimeProvider.System);
        routes.MapPost("/api/join", (HttpContext http) => Join(http, classes, door));
        routes.MapGet("/api/mine", (HttpContext http) => Own(http, classes, (room, student) => Answers.Node(http, Mine(http, classes, room, student))));
        routes.MapPost("/api/mine/photos", (HttpContext http) => Own(http, classes, (room, student) => Take(http, classes, bench, options, room, student)));
        routes.MapGet("/api/mine/photos/{id}/photo.jpg", (HttpContext http) => Own(http, classes, (room, student) => Picture(http, classes, bench, room, student)));
        routes.MapGet("/api/mine/board", (HttpContext http) => Own(http, classes, (room, student) => room.Facts.BoardIsShown
            ? Answers.Node(http, ClassViews.Board(classes, room, Answers.Unit(http), student))
            : Answers.Refuse(http, StatusCodes.Status403Forbidden, "The board is not shown on phones now.")));
        routes.MapGet("/api/mine/events", (HttpContext http) => Own(http, classes, (room, _) => ClassEvents.Stream(http, classes.Changes, room.Id, ends)));
    }

    private static async Task Join(HttpContext http, ClassBench classes, ClassDoor door)
    {
        string address = http.Connection.RemoteIpAddress?.ToString() ?? "";
        if (door.IsPaused(address))
        {
            await Answers.Refuse(http, StatusCodes.Status429TooManyRequests, "Too many wrong codes: wait a minute, then scan the code anew.");
            return;
        }

        JsonObject body = await Answers.Body(http);
        if (body["code"] is not JsonValue v || !v.TryGetValue(out string? code) || classes.Rooms.OfCode(code.Trim()) is not { } room)
        {
            door.Wrong(address);
            await Answers.Refuse(http, StatusCodes.Status401Unauthorized, "There is no class with this code: scan the one on the wall.");
            return;
        }

        try
        {
            (ClassStudent student, string token) = room.Join(body["name"] is JsonValue n && n.TryGetValue(out string? name) ? name : null);
            http.Response.Cookies.Append(Cookie, token, new CookieOptions { HttpOnly = true, SameSite = SameSiteMode.Strict, Path = "/", MaxAge = TimeSpan.FromDays(1) });
            classes.Changes.Say(room.Id);
            await Answers.Node(http, Mine(http, classes, room, student), StatusCodes.Status201Created);
        }
        catch (InputException e)
        {
            await Answers.Refuse(http, StatusCodes.Status409Conflict, e.Message);
        }
    }

    private static JsonObject Mine(HttpContext http, ClassBench classes, ClassRoom room, ClassStudent student) => new()
    {
        ["class"] = room.Facts.Title, ["name"] = student.Name, ["open"] = room.Facts.IsOpen, ["boardShown"] = room.Facts.BoardIsShown,
        ["tries"] = new JsonArray([.. room.Now().Tries.Where(t => t.StudentId == student.Id).Reverse().Select(t => (JsonNode?)ClassViews.Try(classes, t, Answers.Unit(http)))]),
    };

    private static async Task Take(HttpContext http, ClassBench classes, Bench bench, ServeOptions options, ClassRoom room, ClassStudent student)
    {
        if (room.Refusal(student) is { } refusal)
        {
            await Answers.Refuse(http, StatusCodes.Status429TooManyRequests, refusal);
            return;
        }

        if (http.Request.ContentLength is not (> 0 and <= MostBytes) and var bytes)
        {
            await (bytes is > 0
                ? Answers.Refuse(http, StatusCodes.Status413PayloadTooLarge, $"The photo is larger than {MostBytes / 1_000_000} MB: take it at a lower resolution.")
                : Answers.Refuse(http, StatusCodes.Status411LengthRequired, "Send the photo as this page does."));
            return;
        }

        if (bench.Waiting >= options.MaxWaiting)
        {
            await Answers.Refuse(http, StatusCodes.Status429TooManyRequests, "Many photos are waiting to be measured: send this one when some of them are done.");
            return;
        }

        if (http.Features.Get<IHttpMaxRequestBodySizeFeature>() is { IsReadOnly: false } limit)
            limit.MaxRequestBodySize = MostBytes;
        await AtOnce.WaitAsync(http.RequestAborted);
        try
        {
            await Keep(http, classes, room, student, (int)http.Request.ContentLength!);
        }
        finally
        {
            AtOnce.Release();
        }
    }

    /// <summary>The place is taken out before a byte of the photo is on the disk.</summary>
    private static async Task Keep(HttpContext http, ClassBench classes, ClassRoom room, ClassStudent student, int length)
    {
        byte[] given = new byte[length];
        await http.Request.Body.ReadExactlyAsync(given, http.RequestAborted);
        Outcome<PlainPhoto> plain = PlainPhoto.Of(given);
        if (plain.Value is not { } photo)
        {
            await Answers.Refuse(http, StatusCodes.Status400BadRequest, plain.Findings[0].Message);
            return;
        }

        string name = "photo" + photo.Ending;
        ClassTry sent = await classes.Take(room, student, photo.Bytes, name, photo.SaidPlace, http.RequestAborted);
        await Answers.Node(http, ClassViews.Try(classes, sent, Answers.Unit(http)), StatusCodes.Status201Created);
    }

    private static Task Picture(HttpContext http, ClassBench classes, Bench bench, ClassRoom room, ClassStudent student) =>
        http.Request.RouteValues["id"] is string id && room.Now().Tries.FirstOrDefault(t => t.Id == id && t.StudentId == student.Id) is { } sent
            && classes.Photo(sent) is { } photo && bench.Photos.Overview(photo.Stored) is { } jpeg
            ? Answers.Lasting(http, jpeg, "image/jpeg")
            : Answers.Refuse(http, StatusCodes.Status404NotFound, "You have no such photo.");

    /// <summary>Does something for the student whose phone asks.</summary>
    public static Task Own(HttpContext http, ClassBench classes, Func<ClassRoom, ClassStudent, Task> then) =>
        classes.Rooms.OfToken(http.Request.Cookies[Cookie]) is var (room, student)
            ? then(room, student)
            : Answers.Refuse(http, StatusCodes.Status401Unauthorized, "Scan the code of your class to come in.");
}
