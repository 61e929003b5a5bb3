using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Nodes;
using DeflectScan.Proving;

namespace DeflectScan.Reporting.Json;

/// <summary>A proof as one JSON object, schema <c>deflectscan.proof/1</c>: lengths in mm with 4 decimals, uncertainties expanded (95 %).</summary>
public static class ProofJson
{
    public const string Schema = "deflectscan.proof/1";

    private static readonly JsonSerializerOptions Indented = new() { WriteIndented = true, NewLine = "\n", Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping };

    /// <summary>The object as text, its last line ended.</summary>
    public static string Write(ProofReport proof, Measurement measurement) => Of(proof, measurement).ToJsonString(Indented) + "\n";

    /// <summary>The same as a node, for a page.</summary>
    public static JsonObject Of(ProofReport proof, Measurement measurement) => new()
    {
        ["schema"] = Schema,
        ["photo_sha256"] = measurement.Photo?.Sha256,
        ["verdict"] = MeasurementJson.Spell(proof.Verdict),
        ["says"] = new JsonArray([.. proof.Says.Select(s => (JsonNode)JsonValue.Create(s))]),
        ["chi_square"] = Rounded(proof.ChiSquare),
        ["degrees_of_freedom"] = proof.Freedom,
        ["probability"] = Math.Round(proof.Probability, 6),
        ["largest_en"] = Rounded(proof.LargestEn),
        ["cause_ratio"] = Rounded(Math.Min(proof.CauseRatio, 1e12)),
        ["is_suspicion"] = proof.Causes.Count > 0 && !proof.IsSure,
        ["shows_scale_percent"] = Rounded(proof.ShowsScalePercent),
        ["readings"] = new JsonArray([.. proof.Readings.Select(r => (JsonNode)Reading(r))]),
        ["causes"] = new JsonArray([.. proof.Causes.Select(c => (JsonNode)Cause(c))]),
    };

    public static string Spell(ProofCause cause) => cause switch
    {
        ProofCause.CardOff => "card_off_plane",
        ProofCause.SlipOfPen => "slip_of_the_pen",
        _ => MeasurementJson.Spell(cause),
    };

    private static JsonObject Reading(ComparedReading r) => new()
    {
        ["what"] = r.Reading.Kind == ReadingKind.Gap ? "gap" : "station",
        ["from"] = r.Reading.From,
        ["to"] = r.Reading.To is { } to ? to : "tip",
        ["reading_mm"] = Rounded(r.Reading.Mm),
        ["reading_uncertainty_mm"] = Rounded(r.Reading.UncertaintyMm),
        ["photo_mm"] = Rounded(r.PhotoMm),
        ["photo_uncertainty_mm"] = Rounded(r.PhotoUncertaintyMm),
        ["difference_mm"] = Rounded(r.DifferenceMm),
        ["en"] = Rounded(r.En),
        ["too_rough"] = r.IsRough,
    };

    private static JsonObject Cause(NamedCause c) => new()
    {
        ["cause"] = Spell(c.Cause),
        ["share"] = Rounded(c.Share),
        ["chi_square_explained"] = Rounded(c.ChiSquareExplained),
        ["guide"] = c.Guide,
        ["card"] = c.Card?.ToString(),
        ["says"] = c.Says,
        ["do"] = c.Do,
    };

    private static double Rounded(double value)
    {
        if (!double.IsFinite(value))
            throw new ArgumentException("A figure of the proof is not a number.");
        double rounded = Math.Round(value, MeasurementJson.LengthDecimals);
        return rounded == 0 ? 0 : rounded;
    }
}
