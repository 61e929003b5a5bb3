using System.Text.Json;
using System.Text.Json.Nodes;
using DeflectScan.Findings;
using DeflectScan.Geometry;

namespace DeflectScan;

/// <summary>Points that a person placed on the photo, all optional; px of the upright photo, origin at the centre of the top-left pixel.</summary>
/// <param name="TipPx">The blank's tip: the middle of the tip-top's tube end.</param>
/// <param name="ButtPx">Where the bare blank goes into the handle.</param>
/// <param name="BlankPx">Points on the blank's centreline, in order from the tip to the butt or from the butt to the tip.</param>
/// <param name="RingsPx">Where the line touches the rings, from the reel to the tip-top's ring; the tip-top may be left out.</param>
/// <param name="ReelFrontPx">The point of the blank's centreline at the reel's front.</param>
public sealed record Marks(
    Vec2? TipPx,
    Vec2? ButtPx,
    IReadOnlyList<Vec2> BlankPx,
    IReadOnlyList<Vec2> RingsPx,
    Vec2? ReelFrontPx)
{
    /// <summary>Whether <see cref="RingsPx"/> are all the rings there are (the tip-top's may be left out): none that was read stands besides them.</summary>
    public bool IsComplete { get; init; }

    /// <summary>The schema that a marks file must name.</summary>
    public const string Schema = "deflectscan.marks/1";

    private const int MaxPoints = 1000;
    private const double MaxPx = 100_000;
    private const string NoMarks = $"The marks file must be a JSON object whose \"schema\" is \"{Schema}\".";

    /// <summary>Nothing marked.</summary>
    public static Marks None { get; } = new(null, null, [], [], null);

    public bool IsEmpty => TipPx is null && ButtPx is null && BlankPx.Count == 0 && RingsPx.Count == 0 && ReelFrontPx is null;

    /// <summary>Reads a marks document.</summary>
    /// <param name="json">
    /// <c>{"schema":"deflectscan.marks/1","tip":[x,y],"butt":[x,y],"blank":[[x,y],…],"rings":[[x,y],…],"reel_front":[x,y],"complete":true}</c>; every
    /// member but the schema may be missing or null, members unknown to this version are passed over.
    /// </param>
    public static Outcome<Marks> Parse(string json) => Parsed.Json(json, 8, where => $"The marks file is not JSON{where}.", NoMarks, root =>
        root.ValueKind == JsonValueKind.Object && root.TryGetProperty("schema", out JsonElement schema) && schema.ValueKind == JsonValueKind.String && schema.GetString() == Schema
            ? new Marks(Single(root, "tip"), Single(root, "butt"), Several(root, "blank"), Several(root, "rings"), Single(root, "reel_front")) { IsComplete = Complete(root) }
            : throw new InputException(NoMarks));

    /// <summary>The document that <see cref="Parse"/> reads back equal.</summary>
    public string ToJson()
    {
        JsonObject members = new() { ["schema"] = Schema };
        if (TipPx is { } tip)
            members["tip"] = Pair(tip);
        if (ButtPx is { } butt)
            members["butt"] = Pair(butt);
        if (BlankPx.Count > 0)
            members["blank"] = new JsonArray([.. BlankPx.Select(Pair)]);
        if (RingsPx.Count > 0)
            members["rings"] = new JsonArray([.. RingsPx.Select(Pair)]);
        if (ReelFrontPx is { } reel)
            members["reel_front"] = Pair(reel);
        if (IsComplete)
            members["complete"] = true;
        return members.ToJsonString();
    }

    private static JsonNode Pair(Vec2 p) => new JsonArray(p.X, p.Y);

    private static bool Complete(JsonElement root)
    {
        if (!root.TryGetProperty("complete", out JsonElement e) || e.ValueKind is JsonValueKind.Null or JsonValueKind.False)
            return false;
        return e.ValueKind == JsonValueKind.True
            ? root.TryGetProperty("rings", out JsonElement rings) && rings.ValueKind == JsonValueKind.Array && rings.GetArrayLength() > 0
                ? true
                : throw new InputException("\"complete\" in the marks file says that \"rings\" are all there are, but none is marked: mark them or leave it out.")
            : throw new InputException("\"complete\" in the marks file must be true or false.");
    }

    private static Vec2? Single(JsonElement root, string name) =>
        root.TryGetProperty(name, out JsonElement e) && e.ValueKind != JsonValueKind.Null ? Point(e, name) : null;

    private static Vec2[] Several(JsonElement root, string name)
    {
        if (!root.TryGetProperty(name, out JsonElement e) || e.ValueKind == JsonValueKind.Null)
            return [];
        if (e.ValueKind != JsonValueKind.Array || e.GetArrayLength() > MaxPoints)
            throw new InputException($"\"{name}\" in the marks file must be a list of at most {MaxPoints} points [x, y].");
        return [.. e.EnumerateArray().Select(p => Point(p, name))];
    }

    private static Vec2 Point(JsonElement e, string name)
    {
        if (e.ValueKind == JsonValueKind.Array && e.GetArrayLength() == 2
            && e[0].ValueKind == JsonValueKind.Number && e[1].ValueKind == JsonValueKind.Number
            && e[0].TryGetDouble(out double x) && e[1].TryGetDouble(out double y) && Math.Abs(x) <= MaxPx && Math.Abs(y) <= MaxPx)
            return new Vec2(x, y);
        throw new InputException($"\"{name}\" in the marks file must hold points [x, y] in px of the photo.");
    }
}
