using System.Net;
using Microsoft.AspNetCore.Http;
using Microsoft.Net.Http.Headers;

namespace DeflectScan.Web.Guarding;

/// <summary>
/// Lets through what this page itself asks for, and nothing that another site makes a browser ask for. A foreign Host header (DNS rebinding), a change
/// without this page's own Origin, and data asked for from another site are refused. There is no CORS header: no other site reads an answer.
/// </summary>
internal static class RequestGuard
{
    /// <summary>What somebody may have who has not come in yet: the door.</summary>
    private static readonly string[] Door = ["/enter", "/api/enter", "/app.css", "/icon.svg", "/js/enter.js", "/fonts/NotoSans-Regular.woff2", "/fonts/NotoSans-Bold.woff2"];

    /// <summary>The class's door and the page behind it.</summary>
    private static readonly string[] StudentPage =
        ["/class", "/api/join", "/class.css", "/js/class/student.js", "/js/class/board-strip.js", "/js/api.js", "/js/dom.js", "/js/settings.js"];

    /// <summary>Why a request is refused, with its status; null where it may pass.</summary>
    /// <param name="http">The request.</param>
    /// <param name="invitation">Who has come in from the network; null where nobody may.</param>
    public static (int Status, string Sentence)? Refusal(HttpContext http, Invitation? invitation)
    {
        HttpRequest request = http.Request;
        if (!IsOwnHost(http))
            return (StatusCodes.Status421MisdirectedRequest, "This page answers to the address that was printed when it started, and to no other name.");
        bool reads = HttpMethods.IsGet(request.Method) || HttpMethods.IsHead(request.Method);
        string origin = request.Headers[HeaderNames.Origin].ToString();
        string own = $"http://{request.Host.Value}";
        if (!reads && origin != own)
            return (StatusCodes.Status403Forbidden, "A change is taken from this page only, not from another site.");
        string site = request.Headers["Sec-Fetch-Site"].ToString();
        bool isData = request.Path.StartsWithSegments("/api", StringComparison.Ordinal);
        if (isData && (site is not ("" or "same-origin" or "none") || (origin.Length > 0 && origin != own)))
            return (StatusCodes.Status403Forbidden, "Data is given to this page only, not to another site.");
        bool isIn = IsThisMachine(http) || invitation?.IsGuest(request.Cookies[Invitation.Cookie]) == true;
        return isIn || (invitation is not null && (Door.Contains(request.Path.Value, StringComparer.Ordinal) || IsForStudents(request.Path)))
            ? null
            : (StatusCodes.Status401Unauthorized, "Scan the code that the computer with the page shows to come in.");
    }

    /// <summary>What a student's phone asks for: the class's door, the page's own code, and what its routes let only the phone's own token have.</summary>
    private static bool IsForStudents(PathString path) =>
        StudentPage.Contains(path.Value, StringComparer.Ordinal) || path.StartsWithSegments("/api/mine", StringComparison.Ordinal);

    /// <summary>Whether the request comes from this machine by its own address, not over a network.</summary>
    public static bool IsThisMachine(HttpContext http) =>
        http.Connection.RemoteIpAddress is { } remote && IPAddress.IsLoopback(remote) && http.Connection.LocalIpAddress is { } local && IPAddress.IsLoopback(local);

    /// <summary>Headers of every answer: nothing from elsewhere, no inline script, no frame, no guessing of types.</summary>
    public static void Protect(IHeaderDictionary headers)
    {
        headers.ContentSecurityPolicy =
            "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' blob:; font-src 'self'; connect-src 'self'; manifest-src 'self'; "
            + "form-action 'none'; base-uri 'none'; frame-ancestors 'none'";
        headers.XContentTypeOptions = "nosniff";
        headers["Referrer-Policy"] = "no-referrer";
        headers["Cross-Origin-Opener-Policy"] = "same-origin";
        headers["Cross-Origin-Resource-Policy"] = "same-origin";
    }

    /// <summary>By the number that was connected to, or localhost: a name that somebody pointed here is none of them.</summary>
    private static bool IsOwnHost(HttpContext http)
    {
        HostString host = http.Request.Host;
        bool isOwn = IsThisMachine(http) ? host.Host is "127.0.0.1" or "localhost" : host.Host == http.Connection.LocalIpAddress?.MapToIPv4().ToString();
        return isOwn && (host.Port ?? 80) == http.Connection.LocalPort;
    }
}
