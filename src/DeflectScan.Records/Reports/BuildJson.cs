using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Nodes;
using DeflectScan.Records.Model;

namespace DeflectScan.Records.Reports;

/// <summary>All of a build as one JSON document, schema <c>deflectscan.build-sheet/1</c>; each measurement brings its own document.</summary>
public static class BuildJson
{
    public const string Schema = "deflectscan.build-sheet/1";

    private static readonly JsonSerializerOptions Indented = new() { WriteIndented = true, NewLine = "\n", Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping };

    public static string Write(ArchiveReader reader, Build b)
    {
        JsonObject sheet = new()
        {
            ["schema"] = Schema,
            ["id"] = b.Id,
            ["created_at"] = b.CreatedAt,
            ["build"] = BuildFactsJson.Write(b.Facts),
            ["measurements"] = new JsonArray([.. b.Measurements.Select(m => (JsonNode)Measurement(reader, m))]),
            ["layouts"] = new JsonArray([.. b.Layouts.Select(l => (JsonNode)Layout(l, l.Id == b.ChosenLayoutId))]),
            ["notes"] = new JsonArray([.. b.Notes.Select(n => (JsonNode)new JsonObject { ["at"] = n.At, ["kind"] = RowsOf.Kind(n.Kind), ["text"] = n.Text })]),
        };
        return sheet.ToJsonString(Indented) + "\n";
    }

    private static JsonObject Measurement(ArchiveReader reader, StoredMeasurement m) => new()
    {
        ["id"] = m.Id,
        ["label"] = m.Label,
        ["set_aside"] = m.IsSetAside,
        ["set_aside_reason"] = m.AsideReason,
        ["made_at"] = m.MadeAt,
        ["program_version"] = m.ProgramVersion,
        ["photo_sha256"] = m.PhotoSha256,
        ["lens_sha256"] = m.LensSha256,
        ["settings"] = JsonNode.Parse(m.Settings),
        ["document"] = JsonNode.Parse(reader.Document(m)),
    };

    private static JsonObject Layout(ConsideredLayout l, bool chosen) => new()
    {
        ["id"] = l.Id,
        ["at"] = l.At,
        ["name"] = l.Name,
        ["basis"] = l.Basis,
        ["chosen"] = chosen,
        ["guides"] = new JsonArray([.. l.Stations.Select(s => (JsonNode)new JsonObject
        {
            ["from_tip_mm"] = s.FromTipMm, ["from_reel_mm"] = s.FromReelMm, ["ring_size_mm"] = s.RingSizeMm, ["height_mm"] = s.HeightMm,
        })]),
    };
}
