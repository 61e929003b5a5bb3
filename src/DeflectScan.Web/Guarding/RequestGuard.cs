using Microsoft.AspNetCore.Http;
using Microsoft.Net.Http.Headers;

namespace DeflectScan.Web.Guarding;

/// <summary>
/// Lets through what this page itself asks for, and nothing that another site makes a browser ask for. A foreign Host header (DNS rebinding), a change
/// without this page's own Origin, and data asked for from another site are refused. There is no CORS header: no other site reads an answer.
/// </summary>
internal static class RequestGuard
{
    /// <summary>Why a request is refused, with its status; null where it may pass.</summary>
    /// <param name="request">The request.</param>
    /// <param name="port">The port that is listened on.</param>
    public static (int Status, string Sentence)? Refusal(HttpRequest request, int port)
    {
        if (!IsOwnHost(request.Host, port))
            return (StatusCodes.Status421MisdirectedRequest, "This page answers to 127.0.0.1 and localhost only: open the address that deflectscan serve printed.");
        bool reads = HttpMethods.IsGet(request.Method) || HttpMethods.IsHead(request.Method);
        string origin = request.Headers[HeaderNames.Origin].ToString();
        string own = $"http://{request.Host.Value}";
        if (!reads && origin != own)
            return (StatusCodes.Status403Forbidden, "A change is taken from this page only, not from another site.");
        string site = request.Headers["Sec-Fetch-Site"].ToString();
        bool isData = request.Path.StartsWithSegments("/api", StringComparison.Ordinal);
        if (isData && (site is not ("" or "same-origin" or "none") || (origin.Length > 0 && origin != own)))
            return (StatusCodes.Status403Forbidden, "Data is given to this page only, not to another site.");
        return null;
    }

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

    private static bool IsOwnHost(HostString host, int port) =>
        host.Host is "127.0.0.1" or "localhost" && (host.Port ?? 80) == port;
}
