using System.Text.Json.Nodes;
using DeflectScan.Records.Comparing;
using DeflectScan.Records.Model;

namespace DeflectScan.Records.Reports;

/// <summary>Comparisons, histories and lists as JSON, alike in every face.</summary>
public static class ComparisonJson
{
    /// <param name="c">Both measurements.</param>
    /// <param name="before">What the earlier one is called.</param>
    /// <param name="after">What the later one is called.</param>
    public static JsonObject Of(Comparison c, string before, string after) => new()
    {
        ["before"] = before,
        ["after"] = after,
        ["common_mm"] = c.Shape.CommonMm,
        ["rms_mm"] = c.Shape.RmsMm,
        ["turn_before_deg"] = c.Shape.TurnBeforeDeg,
        ["turn_after_deg"] = c.Shape.TurnAfterDeg,
        ["same_stand"] = Stand(c.Stand),
        ["guides"] = new JsonArray([.. c.Guides.Select(g => (JsonNode)new JsonObject
        {
            ["before"] = g.Before, ["after"] = g.After, ["before_mm"] = g.BeforeMm, ["after_mm"] = g.AfterMm, ["moved_mm"] = g.MovedMm, ["uncertainty_mm"] = g.UncertaintyMm,
            ["has_moved"] = g.HasMoved,
        })]),
        ["pairs"] = new JsonArray([.. c.Pairs.Select(p => (JsonNode)new JsonObject
        {
            ["before"] = Pair(p.Before), ["after"] = Pair(p.After), ["gap_change_mm"] = p.Gap?.ByMm, ["gap_change_uncertainty_mm"] = p.Gap?.UncertaintyMm,
            ["bow_change_mm"] = p.Bow?.ByMm, ["bow_change_uncertainty_mm"] = p.Bow?.UncertaintyMm,
        })]),
        ["changes"] = new JsonArray([.. c.Changes.Select(s => (JsonNode)s)]),
    };

    /// <summary>A build's tests as a series.</summary>
    public static JsonArray History(IReadOnlyList<HistoryStep> steps) => new([.. steps.Select(s => (JsonNode)new JsonObject
    {
        ["id"] = s.Measurement.Id, ["made_at"] = s.Measurement.MadeAt, ["label"] = s.Measurement.Label, ["tip_turn_deg"] = s.Measurement.TipTurnDeg,
        ["largest_gap_mm"] = s.Measurement.LargestGapMm, ["gap_change_mm"] = s.Gap?.ByMm, ["gap_change_uncertainty_mm"] = s.Gap?.UncertaintyMm,
        ["largest_bow_mm"] = s.Measurement.LargestBowMm, ["bow_change_mm"] = s.Bow?.ByMm, ["bow_change_uncertainty_mm"] = s.Bow?.UncertaintyMm,
        ["follows_worst"] = WorstJson.Of(s.Worst, s.WorstChange),
    })]);

    private static JsonObject? Stand(SharedStand? s) => s is null
        ? null
        : new JsonObject
        {
            ["camera_shift_px"] = s.CameraShiftPx, ["camera_stood"] = s.CameraStood, ["rod_moved_mm"] = s.RodMovedMm, ["rod_moved_at_mm"] = s.RodMovedAtMm,
            ["rod_moved_uncertainty_mm"] = s.RodMovedWithinMm, ["rod_moved"] = s.RodMoved,
        };

    private static JsonObject? Pair(IntervalReport? i) => i is null ? null : new JsonObject { ["from"] = i.From, ["to"] = i.To, ["gap_mm"] = i.GapMm, ["bow_mm"] = i.BowMm };
}

/// <summary>A build's line in a list as JSON.</summary>
public static class SummaryJson
{
    public static JsonObject Of(BuildSummary b) => new()
    {
        ["id"] = b.Id,
        ["name"] = b.Name,
        ["changed_at"] = b.ChangedAt,
        ["owner"] = b.Owner,
        ["blank"] = b.Blank,
        ["blank_length_mm"] = b.BlankLengthMm,
        ["reel_class"] = b.ReelClass,
        ["line"] = b.Line,
        ["side"] = b.Side,
        ["use"] = b.Use,
        ["measurements"] = b.MeasurementCount,
        ["tip_turn_deg"] = b.TipTurnDeg,
        ["follows_worst"] = WorstJson.Of(b.Worst),
        ["largest_gap_mm"] = b.LargestGapMm,
        ["guides"] = b.GuideCount,
    };
}

/// <summary>The running pair that follows worst as JSON.</summary>
public static class WorstJson
{
    /// <param name="w">The pair.</param>
    /// <param name="change">Against a test before; null: none.</param>
    public static JsonObject? Of(WorstPair? w, Change? change = null) => w is null
        ? null
        : new JsonObject { ["from"] = w.From, ["to"] = w.To, ["to_tip"] = w.ToTip, ["by"] = w.By, ["mm"] = w.Mm, ["uncertainty_mm"] = w.UncertaintyMm, ["change_mm"] = change?.ByMm };
}
