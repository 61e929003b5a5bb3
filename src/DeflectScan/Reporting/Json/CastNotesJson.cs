using System.Text.Json;
using DeflectScan.Findings;
using DeflectScan.Layout.Start;

namespace DeflectScan.Reporting.Json;

/// <summary>One test cast as kept: what was seen, where the first guide stood, when, and a remark.</summary>
/// <param name="Seen">What was seen or heard.</param>
/// <param name="FirstGuideFromReelMm">Null where it was not said, which only a cast that runs well may leave out.</param>
/// <param name="Date">Of the cast.</param>
/// <param name="Remark">Anything else.</param>
public sealed record KeptCast(CastObservation Seen, double? FirstGuideFromReelMm, DateOnly Date, string? Remark);

/// <summary>The test casts of one build in order, schema <c>deflectscan.testcasts/1</c>.</summary>
public sealed record CastNotes(string Title, IReadOnlyList<KeptCast> Casts);

/// <summary>Writes and reads <see cref="CastNotes"/>.</summary>
public static class CastNotesJson
{
    public const string Schema = "deflectscan.testcasts/1";
    private const int MostCasts = 1000;
    private const string Damaged = $"The notes are damaged: the file is not whole JSON of schema {Schema}.";

    public static string Write(CastNotes notes) => DeskJson.Write(CastNotesMembers.Of(notes));

    public static Outcome<CastNotes> Read(string document) => Parsed.Json(document, 8, _ => Damaged, Damaged, root => new CastNotes(
        DocumentSchema.Checked(root, Schema).GetProperty("title").GetString() ?? "",
        [.. root.GetProperty("casts").EnumerateArray().Take(MostCasts).Select(Cast)]));

    /// <summary>An observation as it is typed and kept: "coils-bunch-seen".</summary>
    public static string Spell(CastObservation seen) => JsonNamingPolicy.KebabCaseLower.ConvertName(seen.ToString());

    private static KeptCast Cast(JsonElement c)
    {
        string seen = c.GetProperty("seen").GetString() ?? "";
        JsonElement place = c.GetProperty("first_guide_from_reel_mm");
        double? first = place.ValueKind == JsonValueKind.Null ? null : place.GetDouble();
        bool known = Enum.GetValues<CastObservation>().Any(o => Spell(o) == seen);
        return known && (first is > 0 and < 5000 || (first is null && seen == Spell(CastObservation.RunsWell))) && DateOnly.TryParseExact(c.GetProperty("date").GetString(), "yyyy-MM-dd", out DateOnly date)
            ? new KeptCast(Enum.GetValues<CastObservation>().First(o => Spell(o) == seen), first, date, c.TryGetProperty("remark", out JsonElement r) ? r.GetString() : null)
            : throw new InputException("The notes are damaged: a cast has an observation, distance or date that cannot be.");
    }
}
