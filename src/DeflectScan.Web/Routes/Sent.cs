using System.Text.Json;
using System.Text.Json.Nodes;
using DeflectScan.Findings;

namespace DeflectScan.Web.Routes;

/// <summary>Members of what a page sends; null where there is none.</summary>
internal static class Sent
{
    /// <exception cref="InputException">Something else than a text.</exception>
    public static string? Text(JsonObject sent, string name) => Of(sent, name, JsonValueKind.String)?.GetValue<string>();

    /// <exception cref="InputException">Something else than a finite number.</exception>
    public static double? Number(JsonObject sent, string name) => Of(sent, name, JsonValueKind.Number) is not { } number ? null
        : number.GetValue<double>() is var value && double.IsFinite(value) ? value : throw Wrong();

    /// <exception cref="InputException">Something else than a whole number.</exception>
    public static int? Whole(JsonObject sent, string name) => Of(sent, name, JsonValueKind.Number) is not { } number ? null
        : number.TryGetValue(out int value) ? value : throw Wrong();

    /// <exception cref="InputException">Neither true nor false.</exception>
    public static bool IsTrue(JsonObject sent, string name) => sent[name] is { } said && said.GetValueKind() switch { JsonValueKind.True => true, JsonValueKind.False => false, _ => throw Wrong() };

    private static JsonValue? Of(JsonObject sent, string name, JsonValueKind kind) => sent[name] is not { } node ? null
        : node.GetValueKind() == kind ? node.AsValue() : throw Wrong();

    public static InputException Wrong(Exception? cause = null) => new("What was sent is not as this page sends it: load the page anew.", cause);
}
