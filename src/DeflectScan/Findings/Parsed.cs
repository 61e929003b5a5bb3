using System.Text.Json;

namespace DeflectScan.Findings;

/// <summary>The edge of every reader of a text that may come from anyone: a value comes out, or a refusal (file-unreadable) with one sentence.</summary>
public static class Parsed
{
    public static Outcome<T> Of<T>(Func<T> read)
        where T : class
    {
        try
        {
            return Outcome<T>.Of(read());
        }
        catch (InputException e)
        {
            return Outcome<T>.Refused(FindingCode.FileUnreadable, e.Message);
        }
    }

    /// <summary>The same of a JSON document.</summary>
    /// <param name="text">The document.</param>
    /// <param name="depth">How deep it may be nested.</param>
    /// <param name="notJson">The sentence where it is no whole JSON; it is given the place, as " (line 3)".</param>
    /// <param name="damaged">The sentence where a member is missing or of another kind than <paramref name="read"/> asks for.</param>
    /// <param name="read">Its reader.</param>
    public static Outcome<T> Json<T>(string text, int depth, Func<string, string> notJson, string damaged, Func<JsonElement, T> read)
        where T : class => Of(() =>
    {
        try
        {
            using JsonDocument document = JsonDocument.Parse(text, new JsonDocumentOptions { MaxDepth = depth });
            return read(document.RootElement);
        }
        catch (JsonException e)
        {
            throw new InputException(notJson(e.LineNumber is { } line ? $" (line {line + 1})" : ""), e);
        }
        catch (Exception e) when (e is KeyNotFoundException or InvalidOperationException)
        {
            throw new InputException(damaged, e);
        }
    });
}
