using System.Text.Json;
using System.Text.Json.Nodes;
using DeflectScan.Tracing;

namespace DeflectScan.Records.Model;

/// <summary>
/// The options of a measurement that bear on its figures, as a small document, schema <c>deflectscan.settings/1</c>. The lens profile is kept by
/// itself; units and limits of a file do not bear on any figure.
/// </summary>
public static class SettingsJson
{
    public const string Schema = "deflectscan.settings/1";

    public static string Write(MeasureOptions options)
    {
        JsonObject settings = new() { ["schema"] = Schema };
        if (options.GuideCount is { } guides)
            settings["guides"] = guides;
        if (options.BlankLengthMm is { } length)
            settings["length_mm"] = length;
        if (options.Side is { } side)
            settings["side"] = SideText.Of(side);
        if (!options.Marks.IsEmpty)
            settings["marks"] = JsonNode.Parse(options.Marks.ToJson());
        if (options.FirstGuideFromReelMm is { } fromReel)
            settings["from_reel_mm"] = fromReel;
        if (options.HoldGuides is { } hold)
            settings["hold"] = hold;
        settings["card_scale"] = options.CardScale;
        settings["card_scale_plus_minus"] = options.CardScalePlusMinus;
        settings["card_off_mm"] = options.CardOffMm ?? MeasureOptions.UsualCardOffMm;
        settings["card_bend_mm"] = options.CardBendMm;
        if (options.Taped.Count > 0)
            settings["taped"] = new JsonArray([.. options.Taped.Select(Taped)]);
        if (options.PullDirectionDeg is { } pull)
            settings["pull_direction_deg"] = pull;
        if (options.LoadN is { } load)
            settings["load_n"] = load;
        if (options.AtRest)
            settings["at_rest"] = true;
        return settings.ToJsonString();
    }

    /// <exception cref="InvalidDataException">Not such a document.</exception>
    public static MeasureOptions Read(string text)
    {
        try
        {
            JsonNode settings = JsonNode.Parse(text)!;
            if ((string?)settings["schema"] != Schema)
                throw new InvalidDataException($"These are no settings of schema {Schema}.");
            return new MeasureOptions
            {
                GuideCount = (int?)settings["guides"],
                BlankLengthMm = (double?)settings["length_mm"],
                Side = SideText.Read((string?)settings["side"]),
                Marks = settings["marks"] is { } marks ? Marks.Parse(marks.ToJsonString()).OrDamaged() : Marks.None,
                FirstGuideFromReelMm = (double?)settings["from_reel_mm"],
                HoldGuides = (int?)settings["hold"],
                CardScale = (double)settings["card_scale"]!,
                CardScalePlusMinus = (double?)settings["card_scale_plus_minus"] ?? MeasureOptions.Default.CardScalePlusMinus,
                CardOffMm = (double?)settings["card_off_mm"] is { } off and not MeasureOptions.UsualCardOffMm ? off : null,
                CardBendMm = (double?)settings["card_bend_mm"] ?? MeasureOptions.Default.CardBendMm,
                Taped = settings["taped"] is { } taped ? [.. taped.AsArray().Select(t => Taped(t!))] : MeasureOptions.Default.Taped,
                PullDirectionDeg = (double?)settings["pull_direction_deg"],
                LoadN = (double?)settings["load_n"],
                AtRest = (bool?)settings["at_rest"] ?? false,
            };
        }
        catch (Exception e) when (e is JsonException or InvalidOperationException or NullReferenceException or ArgumentException)
        {
            throw new InvalidDataException($"These are no settings of schema {Schema}.", e);
        }
    }

    private static JsonNode? Taped(TapedDistance t) =>
        new JsonObject { ["from"] = t.From, ["to"] = t.To, ["mm"] = t.Mm, ["plus_minus_mm"] = t.PlusMinusMm };

    private static TapedDistance Taped(JsonNode t) => new((int)t["from"]!, (int?)t["to"], (double)t["mm"]!, (double)t["plus_minus_mm"]!);
}

/// <summary>The side of the bend as it is spelt in the archive and in documents.</summary>
public static class SideText
{
    public static string? Of(BendSide? side) => side switch { BendSide.Inside => "inside", BendSide.Outside => "outside", _ => null };

    public static BendSide? Read(string? text) => text switch { "inside" => BendSide.Inside, "outside" => BendSide.Outside, _ => null };
}
