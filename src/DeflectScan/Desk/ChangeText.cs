using System.Globalization;
using DeflectScan.Findings;
using DeflectScan.Geometry;

namespace DeflectScan.Desk;

/// <summary>
/// Reads changes as they are typed: "5=+12mm" (by so much), "5=402mm" (to there), "512mm", and "@8" behind any of them for ring size 8 of the guide
/// table. Stations count from the tip, or from the reel's front; a plus sign adds to the station as it is counted.
/// </summary>
/// <param name="Rod">The rod as measured.</param>
/// <param name="FromReel">Stations count from the reel's front, which must be known.</param>
public sealed record ChangeText(MeasuredLayout Rod, bool FromReel)
{
    /// <summary>What a number without a unit is in.</summary>
    public LengthUnit Bare { get; init; } = LengthUnit.Millimetres;

    /// <summary>A move, or one sentence on why the text is none.</summary>
    public Outcome<GuideChange> Move(string text)
    {
        int equals = text.IndexOf('=', StringComparison.Ordinal);
        if (equals < 0)
            return Refused($"'{text}' is no move: write the guide, = and its new station or shift, as in 5=402mm or 5=+12mm.");
        if (GuideProblem(text[..equals], "=402mm", out int guide) is { } problem)
            return Refused(problem);
        if (RingProblem(text[(equals + 1)..].Trim(), out string where, out double? ring) is { } none)
            return Refused(none);
        if (!LengthText.TryMm(where, Bare, out double mm))
            return Refused($"'{where}' is no length: write it as in 5=402mm, 5=+12mm or 5=15 13/16in.");
        bool by = where.StartsWith('+') || where.StartsWith('-');
        return Outcome<GuideChange>.Of(new MoveTo(guide, by ? Rod.Rings[guide - 1].StationMm + (FromReel ? -mm : mm) : FromTip(mm), ring));
    }

    /// <summary>A guide more, or one sentence on why the text is none.</summary>
    public Outcome<GuideChange> Add(string text) =>
        RingProblem(text.Trim(), out string where, out double? ring) is { } problem ? Refused(problem)
        : LengthText.TryMm(where, Bare, out double mm) && mm >= 0 ? Outcome<GuideChange>.Of(new AddAt(FromTip(mm), ring))
        : Refused($"'{where}' is no station: write it as in 512mm or 20 3/16in.");

    /// <summary>A guide less, or one sentence on why the text is none.</summary>
    public Outcome<GuideChange> Remove(string text) =>
        GuideProblem(text, "", out int guide) is { } problem ? Refused(problem) : Outcome<GuideChange>.Of(new TakeOff(guide));

    /// <summary>A station as counted here, from the tip.</summary>
    public double FromTip(double stationMm) => FromReel ? Rod.ReelStationMm!.Value - stationMm : stationMm;

    private string? GuideProblem(string text, string example, out int guide)
    {
        int last = Rod.Rings.Count - 1;
        return !int.TryParse(text, NumberStyles.AllowLeadingWhite | NumberStyles.AllowTrailingWhite, CultureInfo.InvariantCulture, out guide)
            ? $"'{text}' is no guide: write its number, counted from 1 at the reel, as in 5{example}."
            : guide >= 1 && guide <= last ? null
            : $"There is no guide {guide} that could change: the layout has {last}, counted from the reel, and the tip-top stays.";
    }

    private static string? RingProblem(string text, out string where, out double? ring)
    {
        int at = text.IndexOf('@', StringComparison.Ordinal);
        (where, ring) = (at < 0 ? text : text[..at].Trim(), null);
        if (at < 0)
            return null;
        if (!double.TryParse(text[(at + 1)..], NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out double size) || size is not (> 0 and < 100))
            return $"'{text[(at + 1)..]}' is no ring size: write it as in 512mm@8.";
        ring = size;
        return null;
    }

    private static Outcome<GuideChange> Refused(string message) => Outcome<GuideChange>.Refused(FindingCode.GuidesUncertain, message);
}
