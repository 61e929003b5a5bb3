using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Nodes;
using DeflectScan.Proving;
using DeflectScan.Records.Model;
using DeflectScan.Reporting.Json;

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
            ["proofs"] = new JsonArray([.. b.Proofs.Select(p => (JsonNode)Proof(p))]),
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

    private static JsonObject Proof(StoredProof p) => new()
    {
        ["id"] = p.Id,
        ["measurement_id"] = p.MeasurementId,
        ["at"] = p.At,
        ["camera"] = p.Camera,
        ["cards"] = p.Cards,
        ["verdict"] = MeasurementJson.Spell(p.Verdict),
        ["cause"] = p.Cause,
        ["chi_square"] = p.ChiSquare,
        ["probability"] = p.Probability,
        ["largest_en"] = p.LargestEn,
        ["readings"] = new JsonArray([.. p.Readings.Select(r => (JsonNode)new JsonObject
        {
            ["kind"] = r.Reading.Kind == ReadingKind.Gap ? "gap" : "station", ["from"] = r.Reading.From, ["to"] = r.Reading.To is { } to ? to : "tip", ["reading_mm"] = r.Reading.Mm,
            ["reading_uncertainty_mm"] = r.Reading.UncertaintyMm, ["photo_mm"] = r.PhotoMm, ["photo_uncertainty_mm"] = r.PhotoUncertaintyMm,
        })]),
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
