using System.Text.Json;
using DeflectScan.Findings;
using DeflectScan.Reporting.Sheets;

namespace DeflectScan.Reporting.Json;

/// <summary>
/// A layout by itself, schema <c>deflectscan.layout/1</c>: what the desk's commands keep with --save and what sheets and tapes are printed from.
/// </summary>
public static class LayoutJson
{
    public const string Schema = "deflectscan.layout/1";
    private const int MostGuides = 60;
    private const string Damaged = $"The layout document is damaged: it is not whole JSON of schema {Schema}.";

    /// <summary>The document with its last line ended.</summary>
    public static string Write(SheetLayout layout) => DeskJson.Write(layout);

    /// <summary>Reads a layout.</summary>
    public static Outcome<SheetLayout> Read(string document) => Parsed.Json(document, 8, _ => Damaged, Damaged, root => Read(DocumentSchema.Checked(root, Schema)));

    private static SheetLayout Read(JsonElement e)
    {
        SheetGuide[] guides = [.. e.GetProperty("guides").EnumerateArray().Take(MostGuides + 1).Select(Guide)];
        SheetLayout layout = new(e.GetProperty("title").GetString() ?? "", e.GetProperty("blank_length_mm").GetDouble(), guides)
        {
            LengthIsTraced = e.TryGetProperty("length_is_traced", out JsonElement traced) && traced.GetBoolean(),
        };
        string? problem = guides.Length > MostGuides ? $"it has more than {MostGuides} guides" : SheetChecks.Problem(layout);
        return problem is null ? layout : throw new InputException($"The layout document cannot be used: {problem}.");
    }

    private static SheetGuide Guide(JsonElement g) => new(
        g.GetProperty("label").GetString() ?? "",
        g.GetProperty("kind").GetString() ?? "",
        g.GetProperty("from_tip_mm").GetDouble(),
        Optional(g, "from_reel_mm"),
        Optional(g, "ring_size_mm"),
        Optional(g, "height_mm"));

    private static double? Optional(JsonElement g, string name) =>
        !g.TryGetProperty(name, out JsonElement v) || v.ValueKind == JsonValueKind.Null ? null
        : v.TryGetDouble(out double value) && Math.Abs(value) < 1e5 ? value
        : throw new InputException($"The layout document cannot be used: a guide's {name} is out of all bounds.");
}
