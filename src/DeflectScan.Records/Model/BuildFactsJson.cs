using System.Text.Json;
using System.Text.Json.Nodes;
using DeflectScan.Findings;

namespace DeflectScan.Records.Model;

/// <summary>What is said of a build as a small document, schema <c>deflectscan.build/1</c>; every member but the name may be missing.</summary>
public static class BuildFactsJson
{
    public const string Schema = "deflectscan.build/1";

    public static JsonObject Write(BuildFacts f)
    {
        JsonArray guides = [.. f.Guides.Select(g => (JsonNode)new JsonObject
        {
            ["frame"] = g.Frame, ["ring_size_mm"] = g.RingSizeMm, ["from_tip_mm"] = g.FromTipMm, ["from_reel_mm"] = g.FromReelMm,
        })];
        return new JsonObject
        {
            ["schema"] = Schema,
            ["name"] = f.Name,
            ["owner"] = f.Owner,
            ["blank"] = f.Blank,
            ["blank_length_mm"] = f.BlankLengthMm,
            ["pieces"] = f.Pieces,
            ["spine_mark"] = f.SpineMark,
            ["handle"] = f.Handle,
            ["reel_class"] = f.ReelClass,
            ["line"] = f.Line,
            ["side"] = SideText.Of(f.Side),
            ["use"] = f.Use,
            ["remarks"] = f.Remarks,
            ["guides"] = guides,
        };
    }

    /// <summary>Reads such a document over what is known already.</summary>
    /// <param name="text">The document.</param>
    /// <param name="known">Kept where the document has no such member; null for a new build.</param>
    public static Outcome<BuildFacts> Read(string text, BuildFacts? known)
    {
        try
        {
            return JsonNode.Parse(text, documentOptions: new JsonDocumentOptions { MaxDepth = 8, AllowDuplicateProperties = false }) is JsonObject o
                && o["schema"] is JsonValue schema && schema.TryGetValue(out string? said) && said == Schema
                ? Read(o, known)
                : Outcome<BuildFacts>.Refused(FindingCode.FileUnreadable, $"The build's file must be a JSON object whose \"schema\" is \"{Schema}\".");
        }
        catch (JsonException e)
        {
            return Outcome<BuildFacts>.Refused(FindingCode.FileUnreadable, $"The build's file is not JSON (line {e.LineNumber + 1}).");
        }
    }

    /// <summary>Reads the members of such a document over what is known already; a guide may also be a text, as a person types it (<see cref="TypedGuide"/>).</summary>
    /// <param name="o">The members.</param>
    /// <param name="known">Kept where there is no such member; null for a new build.</param>
    public static Outcome<BuildFacts> Read(JsonObject o, BuildFacts? known) => Parsed.Of(() => Members(o, known));

    private static BuildFacts Members(JsonObject o, BuildFacts? known)
    {
        try
        {
            BuildFacts start = known ?? new BuildFacts { Name = "" };
            T Member<T>(string name, Func<JsonNode?, T> read, T otherwise) => o.ContainsKey(name) ? read(o[name]) : otherwise;
            return new BuildFacts
            {
                Name = Member("name", n => (string?)n, start.Name) ?? "",
                Owner = Member("owner", n => (string?)n, start.Owner),
                Blank = Member("blank", n => (string?)n, start.Blank),
                BlankLengthMm = Member("blank_length_mm", n => (double?)n, start.BlankLengthMm),
                Pieces = Member("pieces", n => (int?)n, start.Pieces),
                SpineMark = Member("spine_mark", n => (string?)n, start.SpineMark),
                Handle = Member("handle", n => (string?)n, start.Handle),
                ReelClass = Member("reel_class", n => (int?)n, start.ReelClass),
                Line = Member("line", n => (string?)n, start.Line),
                Side = Member("side", n => n is null ? null : SideText.Read((string?)n) ?? throw new InputException("The build's \"side\" must be \"inside\" or \"outside\"."), start.Side),
                Use = Member("use", n => (string?)n, start.Use),
                Remarks = Member("remarks", n => (string?)n, start.Remarks),
                Guides = Member("guides", n => n is JsonArray list ? Guides(list) : [], start.Guides),
            };
        }
        catch (Exception e) when (e is InvalidOperationException or OverflowException)
        {
            throw new InputException("A member of the build is of the wrong kind: texts in quotes, lengths as plain numbers in mm.", e);
        }
    }

    private static IReadOnlyList<GuideEntry> Guides(JsonArray list) => list.Count > 0 && list.All(g => g is JsonValue)
        ? TypedGuide.Complete([.. list.Select(g => TypedGuide.Read((string)g!))])
        : [.. list.Select(Guide)];

    private static GuideEntry Guide(JsonNode? g) => g is JsonObject o && o["from_tip_mm"] is { } station
        ? new GuideEntry((string?)o["frame"], (double?)o["ring_size_mm"], (double)station, (double?)o["from_reel_mm"])
        : throw new InputException("Each guide of the build needs \"from_tip_mm\", its station from the tip in mm.");
}
