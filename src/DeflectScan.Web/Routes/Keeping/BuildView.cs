using System.Text.Json.Nodes;
using DeflectScan.Findings;
using DeflectScan.Geometry;
using DeflectScan.Records.Comparing;
using DeflectScan.Records.Model;
using DeflectScan.Records.Reports;
using DeflectScan.Reporting.Json;
using DeflectScan.Web.Measuring;

namespace DeflectScan.Web.Routes;

/// <summary>A build as the page is told of it; its measurements' figures are in their documents.</summary>
internal static class BuildView
{
    public static JsonObject Of(Build b, Bench bench) => new()
    {
        ["id"] = b.Id,
        ["created_at"] = b.CreatedAt,
        ["revisions"] = b.History.Count,
        ["build"] = BuildFactsJson.Write(b.Facts),
        ["tests"] = new JsonArray([.. b.Measurements.Select(m => (JsonNode)Test(m, bench))]),
        ["history"] = ComparisonJson.History(HistorySeries.Of(b)),
        ["layouts"] = new JsonArray([.. b.Layouts.Select(l => (JsonNode)Layout(l, l.Id == b.ChosenLayoutId))]),
        ["proofs"] = new JsonArray([.. b.Proofs.Select(p => (JsonNode)Proof(p))]),
        ["notes"] = new JsonArray([.. b.Notes.Select(n => (JsonNode)new JsonObject { ["at"] = n.At, ["kind"] = Kind(n.Kind), ["text"] = n.Text })]),
    };

    public static string Kind(NoteKind kind) => kind switch { NoteKind.TestCast => "test-cast", NoteKind.Remark => "remark", _ => "note" };

    public static NoteKind Kind(string? kind) => kind switch
    {
        "test-cast" => NoteKind.TestCast,
        "remark" => NoteKind.Remark,
        "note" or null => NoteKind.Note,
        _ => throw new InputException("A note is a note, a test cast or a remark."),
    };

    private static JsonObject Test(StoredMeasurement m, Bench bench) => new()
    {
        ["id"] = m.Id,
        ["label"] = m.Label,
        ["made_at"] = m.MadeAt,
        ["status"] = m.Status == MeasurementStatus.Ok ? "ok" : "needs_review",
        ["set_aside"] = m.IsSetAside,
        ["set_aside_reason"] = m.AsideReason,
        ["tip_turn_deg"] = m.TipTurnDeg,
        ["guides"] = m.GuideCount,
        ["follows_worst"] = WorstJson.Of(m.Worst),
        ["largest_gap_mm"] = m.LargestGapMm,
        ["largest_gap_uncertainty_mm"] = m.LargestGapUncertaintyMm,
        ["program"] = m.ProgramVersion,
        ["on_bench"] = bench.Find(m.PhotoSha256[..16]) is { } photo && photo.Stored.Sha256 == m.PhotoSha256 ? photo.Stored.Id : null,
    };

    private static JsonObject Proof(StoredProof p) => new()
    {
        ["test"] = p.MeasurementId, ["at"] = p.At, ["camera"] = p.Camera, ["cards"] = p.Cards, ["verdict"] = MeasurementJson.Spell(p.Verdict), ["cause"] = p.Cause, ["chi_square"] = p.ChiSquare,
        ["largest_en"] = p.LargestEn, ["readings"] = p.Readings.Count,
    };

    private static JsonObject Layout(ConsideredLayout l, bool isChosen) => new()
    {
        ["id"] = l.Id, ["at"] = l.At, ["name"] = l.Name, ["basis"] = l.Basis, ["chosen"] = isChosen,
        ["guides"] = new JsonArray([.. l.Stations.Select(s => (JsonNode)new JsonObject
        {
            ["from_tip_mm"] = s.FromTipMm, ["from_reel_mm"] = s.FromReelMm, ["ring_size_mm"] = s.RingSizeMm,
        })]),
    };

    /// <summary>Sentences of a comparison in a unit.</summary>
    public static JsonObject InUnit(JsonObject comparison, Comparison c, LengthUnit unit)
    {
        comparison["changes"] = new JsonArray([.. c.Changes.Select(s => (JsonNode)UnitsInSentences.Of(s, unit))]);
        return comparison;
    }
}
