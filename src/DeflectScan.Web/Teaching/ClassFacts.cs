using System.Globalization;
using System.Text.Json.Nodes;
using DeflectScan.Findings;

namespace DeflectScan.Web.Teaching;

/// <summary>What an instructor says of a class.</summary>
/// <param name="Title">One line; untrusted text.</param>
/// <param name="TargetBowMm">Largest running bow asked for, mm; null for none.</param>
/// <param name="TargetIsBest">The target is the best that so many guides can do on each blank.</param>
/// <param name="HideNames">The board shows numbers.</param>
/// <param name="IsSameBlank">All rods have the same blank.</param>
/// <param name="BoardIsShown">Phones may see the board.</param>
/// <param name="IsOpen">Phones may come in and send.</param>
/// <param name="Order">By what the board is sorted.</param>
/// <param name="Reference">The instructor's own rod: a photo of the bench; null for none.</param>
internal sealed record ClassFacts(
    string Title, double? TargetBowMm, bool TargetIsBest, bool HideNames, bool IsSameBlank, bool BoardIsShown, bool IsOpen, string Order, string? Reference)
{
    private static readonly string[] Orders = ["bow", "gap", "clearance", "guides", "best", "name"];

    public static ClassFacts Of(string title) => new(title, null, false, false, false, false, true, "bow", null);

    /// <summary>The facts with what the page changes.</summary>
    /// <exception cref="InputException">It makes no sense; one sentence.</exception>
    public ClassFacts With(JsonObject change)
    {
        try
        {
            ClassFacts changed = this with
            {
                Title = change.ContainsKey("title") ? CleanText.Line((string?)change["title"], 80) is { Length: > 0 } title ? title : throw new InputException("Give the class a name.") : Title,
                TargetBowMm = change.ContainsKey("target") ? Target(change["target"]) : TargetBowMm,
                TargetIsBest = change.ContainsKey("target") ? change["target"] is JsonValue v && v.TryGetValue(out string? word) && word == "best" : TargetIsBest,
                HideNames = (bool?)change["hideNames"] ?? HideNames,
                IsSameBlank = (bool?)change["sameBlank"] ?? IsSameBlank,
                BoardIsShown = (bool?)change["boardShown"] ?? BoardIsShown,
                IsOpen = (bool?)change["open"] ?? IsOpen,
                Order = (string?)change["order"] ?? Order,
                Reference = change.ContainsKey("reference") ? (string?)change["reference"] : Reference,
            };
            return Orders.Contains(changed.Order, StringComparer.Ordinal) ? changed : throw new InputException("The board cannot be sorted by that.");
        }
        catch (Exception e) when (e is InvalidOperationException or ArgumentException)
        {
            throw new InputException("What was sent is not as this page sends it: load the page anew.", e);
        }
    }

    public JsonObject ToJson() => new()
    {
        ["title"] = Title, ["target"] = TargetIsBest ? JsonValue.Create("best") : TargetBowMm is { } mm ? JsonValue.Create(mm) : null, ["hideNames"] = HideNames, ["sameBlank"] = IsSameBlank,
        ["boardShown"] = BoardIsShown, ["open"] = IsOpen, ["order"] = Order, ["reference"] = Reference,
    };

    private static double? Target(JsonNode? node)
    {
        if (node is null || (node is JsonValue v && v.TryGetValue(out string? word) && word == "best"))
            return null;
        double mm = node.GetValue<double>();
        return mm is >= 0.5 and <= 100 ? mm : throw new InputException(string.Create(CultureInfo.InvariantCulture, $"A target is a bow from 0.5 to 100 mm, not {mm:0.##}."));
    }
}
