using System.Text.Json;
using System.Text.Json.Nodes;

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
    /// <exception cref="FormatException">Not such a document; the message is one sentence for the user.</exception>
    public static BuildFacts Read(string text, BuildFacts? known)
    {
        try
        {
            if (JsonNode.Parse(text, documentOptions: new JsonDocumentOptions { MaxDepth = 8 }) is not JsonObject o || (string?)o["schema"] != Schema)
                throw new FormatException($"The build's file must be a JSON object whose \"schema\" is \"{Schema}\".");
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
                Side = Member("side", n => n is null ? null : SideText.Read((string?)n) ?? throw new FormatException("The build's \"side\" must be \"inside\" or \"outside\"."), start.Side),
                Use = Member("use", n => (string?)n, start.Use),
                Remarks = Member("remarks", n => (string?)n, start.Remarks),
                Guides = Member("guides", n => n is JsonArray list ? [.. list.Select(Guide)] : [], start.Guides),
            };
        }
        catch (JsonException e)
        {
            throw new FormatException($"The build's file is not JSON (line {e.LineNumber + 1}).", e);
        }
        catch (Exception e) when (e is InvalidOperationException or OverflowException)
        {
            throw new FormatException("A member of the build's file is of the wrong kind: texts in quotes, lengths as plain numbers in mm.", e);
        }
    }

    private static GuideEntry Guide(JsonNode? g) => g is JsonObject o && o["from_tip_mm"] is { } station
        ? new GuideEntry((string?)o["frame"], (double?)o["ring_size_mm"], (double)station, (double?)o["from_reel_mm"])
        : throw new FormatException("Each guide in the build's file needs \"from_tip_mm\", its station from the tip in mm.");
}
