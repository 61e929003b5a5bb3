using System.Reflection;
using System.Security.Cryptography;
using DeflectScan.Web.Guarding;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Routing;
using Microsoft.Net.Http.Headers;

namespace DeflectScan.Web.Routes;

/// <summary>What the program itself says on the page.</summary>
/// <param name="Version">Of the program.</param>
/// <param name="Units">"mm" or "in", as chosen for all commands.</param>
/// <param name="IsForPhones">This browser may show a phone the code.</param>
internal sealed record About(string Version, string Units, bool IsForPhones);

/// <summary>The page's own files, which travel inside the assembly. Every address of a view gives the same page; its modules do the rest.</summary>
internal static class PageRoutes
{
    private const string Prefix = "page/";
    private static readonly string[] Views = ["/", "/photo/{id}", "/photo/{id}/try", "/photo/{id}/proof", "/start", "/series/{id}", "/builds", "/builds/{id}", "/builds/{id}/compare", "/classes", "/classes/{id}"];

    public static void Map(IEndpointRouteBuilder routes, ServeOptions options)
    {
        Assembly own = typeof(PageRoutes).Assembly;
        foreach (string name in own.GetManifestResourceNames().Where(n => n.StartsWith(Prefix, StringComparison.Ordinal)))
        {
            string path = name[Prefix.Length..];
            byte[] carried = Load(own, name);
            Func<byte[]> bytes = options.PageFolder is { } folder ? () => System.IO.File.ReadAllBytes(Path.Combine(folder, path)) : () => carried;
            foreach (string address in path switch { "index.html" => Views, "enter.html" => ["/enter"], "class.html" => ["/class"], _ => [$"/{path}"] })
                routes.MapGet(address, (HttpContext http) => File(http, bytes(), TypeOf(path)));
        }

        routes.MapGet("/api/about", (HttpContext http) => Answers.Json(
            http, new About(own.GetName().Version!.ToString(3), UnitsOf(options), options.IsForPhones && RequestGuard.IsThisMachine(http)), PageJson.Default.About));
    }

    private static string UnitsOf(ServeOptions options) => Geometry.UnitsInSentences.Name(options.Measuring.Units);

    private static async Task File(HttpContext http, byte[] bytes, string type)
    {
        string tag = $"\"{Convert.ToHexStringLower(SHA256.HashData(bytes))[..16]}\"";
        http.Response.Headers.ETag = tag;
        http.Response.Headers.CacheControl = "no-cache";
        if (http.Request.Headers[HeaderNames.IfNoneMatch] == tag)
        {
            http.Response.StatusCode = StatusCodes.Status304NotModified;
            return;
        }

        http.Response.ContentType = type;
        http.Response.ContentLength = bytes.Length;
        await http.Response.Body.WriteAsync(bytes, http.RequestAborted);
    }

    private static byte[] Load(Assembly own, string name)
    {
        using Stream stream = own.GetManifestResourceStream(name)!;
        byte[] bytes = new byte[stream.Length];
        stream.ReadExactly(bytes);
        return bytes;
    }

    private static string TypeOf(string path) => Path.GetExtension(path) switch
    {
        ".html" => "text/html; charset=utf-8",
        ".css" => "text/css; charset=utf-8",
        ".js" => "text/javascript; charset=utf-8",
        ".woff2" => "font/woff2",
        ".svg" => "image/svg+xml",
        _ => "text/plain; charset=utf-8",
    };
}
