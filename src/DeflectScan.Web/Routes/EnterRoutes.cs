using System.Net;
using System.Text.Json;
using DeflectScan.Web.Guarding;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Routing;

namespace DeflectScan.Web.Routes;

/// <summary>The code that a phone sends.</summary>
internal sealed record EnterRequest(string? Code);

/// <summary>Where a phone may come in; told to this machine's own browser alone.</summary>
internal sealed record InvitationView(string Address, string Code);

/// <summary>Phones of the same network coming in, with <c>--lan</c>.</summary>
internal static class EnterRoutes
{
    public static void Map(IEndpointRouteBuilder routes, Invitation invitation)
    {
        routes.MapPost("/api/enter", (HttpContext http) => Enter(http, invitation));
        routes.MapGet("/api/invitation", (HttpContext http) => Own(http, address => Answers.Json(
            http, new InvitationView($"http://{address}:{http.Connection.LocalPort}/", invitation.Code), PageJson.Default.InvitationView)));
        routes.MapGet("/api/invitation.png", (HttpContext http) => Own(http, async address =>
        {
            http.Response.ContentType = "image/png";
            http.Response.Headers.CacheControl = "no-store";
            await http.Response.Body.WriteAsync(Invitation.Picture(invitation.Link(address, http.Connection.LocalPort)), http.RequestAborted);
        }));
    }

    private static async Task Enter(HttpContext http, Invitation invitation)
    {
        EnterRequest? request;
        try
        {
            request = await JsonSerializer.DeserializeAsync(http.Request.Body, PageJson.Default.EnterRequest, http.RequestAborted);
        }
        catch (JsonException)
        {
            request = null;
        }

        (string? token, bool isPaused) = invitation.Enter(request?.Code ?? "");
        if (token is null)
        {
            await (isPaused
                ? Answers.Refuse(http, StatusCodes.Status429TooManyRequests, "Too many wrong codes: wait a minute, then scan the code anew.")
                : Answers.Refuse(http, StatusCodes.Status401Unauthorized, "This code is not, or no longer, good: scan the one that is shown now."));
            return;
        }

        http.Response.Cookies.Append(Invitation.Cookie, token, new CookieOptions { HttpOnly = true, SameSite = SameSiteMode.Strict, Path = "/", MaxAge = TimeSpan.FromDays(1) });
        http.Response.StatusCode = StatusCodes.Status204NoContent;
    }

    private static Task Own(HttpContext http, Func<IPAddress, Task> answer) =>
        !RequestGuard.IsThisMachine(http) ? Answers.Refuse(http, StatusCodes.Status403Forbidden, "The code is shown at the machine itself alone.")
        : Invitation.OwnAddresses().FirstOrDefault() is { } address ? answer(address)
        : Answers.Refuse(http, StatusCodes.Status404NotFound, "This machine is on no network that a phone could come over.");
}
