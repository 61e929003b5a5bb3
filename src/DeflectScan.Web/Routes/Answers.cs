using System.Text.Json;
using System.Text.Json.Nodes;
using System.Text.Json.Serialization.Metadata;
using DeflectScan.Findings;
using DeflectScan.Geometry;
using DeflectScan.Web.Measuring;
using DeflectScan.Web.Words;
using Microsoft.AspNetCore.Http;

namespace DeflectScan.Web.Routes;

/// <summary>A refusal: one sentence for the person.</summary>
internal sealed record Problem(string Sentence);

/// <summary>The few ways in which routes answer.</summary>
internal static class Answers
{
    public static async Task Json<T>(HttpContext http, T value, JsonTypeInfo<T> type, int status = StatusCodes.Status200OK)
    {
        http.Response.StatusCode = status;
        http.Response.ContentType = "application/json; charset=utf-8";
        http.Response.Headers.CacheControl = "no-store";
        await JsonSerializer.SerializeAsync(http.Response.Body, value, type, http.RequestAborted);
    }

    /// <summary>A document that is put together node by node.</summary>
    public static async Task Node(HttpContext http, JsonNode value, int status = StatusCodes.Status200OK)
    {
        http.Response.StatusCode = status;
        http.Response.ContentType = "application/json; charset=utf-8";
        http.Response.Headers.CacheControl = "no-store";
        await http.Response.WriteAsync(value.ToJsonString(), http.RequestAborted);
    }

    /// <summary>What was sent, as an object; an empty one where nothing was.</summary>
    /// <exception cref="InputException">It is none; one sentence.</exception>
    public static async Task<JsonObject> Body(HttpContext http)
    {
        using StreamReader reader = new(http.Request.Body);
        string text = await reader.ReadToEndAsync(http.RequestAborted);
        try
        {
            return text.Length == 0 ? [] : JsonNode.Parse(text, documentOptions: new JsonDocumentOptions { MaxDepth = 8, AllowDuplicateProperties = false }) as JsonObject ?? throw Sent.Wrong();
        }
        catch (Exception e) when (e is JsonException or ArgumentException)
        {
            throw Sent.Wrong(e);
        }
    }

    /// <summary>Does something with what came out, or answers with why nothing did.</summary>
    public static Task OrRefusal<T>(HttpContext http, Outcome<T> outcome, Func<T, Task> then)
        where T : class => outcome.Value is { } value ? then(value) : Refuse(http, StatusCodes.Status409Conflict, outcome.Findings[0].Message);

    public static Task Refuse(HttpContext http, int status, string sentence) => Json(http, new Problem(PageWords.Of(sentence, Unit(http))), PageJson.Default.Problem, status);

    /// <summary>Bytes that are made anew each time.</summary>
    public static async Task Bytes(HttpContext http, byte[] bytes, string type)
    {
        http.Response.ContentType = type;
        http.Response.ContentLength = bytes.Length;
        http.Response.Headers.CacheControl = "no-store";
        await http.Response.Body.WriteAsync(bytes, http.RequestAborted);
    }

    /// <summary>Bytes that never change under their address.</summary>
    public static async Task Lasting(HttpContext http, byte[] bytes, string type)
    {
        http.Response.ContentType = type;
        http.Response.ContentLength = bytes.Length;
        http.Response.Headers.CacheControl = "private, max-age=31536000, immutable";
        await http.Response.Body.WriteAsync(bytes, http.RequestAborted);
    }

    /// <summary>The unit that the page asks its sentences in.</summary>
    public static LengthUnit Unit(HttpContext http) => http.Request.Query["units"] == "in" ? LengthUnit.Inches : LengthUnit.Millimetres;

    /// <summary>Does something with the photo of the address, or says that there is none.</summary>
    public static Task WithPhoto(HttpContext http, Bench bench, Func<BenchPhoto, Task> then) =>
        http.Request.RouteValues["id"] is string id && bench.Find(id) is { } photo
            ? then(photo)
            : Refuse(http, StatusCodes.Status404NotFound, "There is no such photo on this bench: go back to the list.");
}
