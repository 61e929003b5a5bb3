using System.Globalization;
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

    /// <exception cref="FormatException">Not such a text; the message is one sentence.</exception>
    public GuideChange Move(string text)
    {
        int equals = text.IndexOf('=', StringComparison.Ordinal);
        if (equals < 0)
            throw new FormatException($"'{text}' is no move: write the guide, = and its new station or shift, as in 5=402mm or 5=+12mm.");
        int guide = Guide(text[..equals], "=402mm");
        (string where, double? ring) = Ring(text[(equals + 1)..].Trim());
        if (!LengthText.TryMm(where, Bare, out double mm))
            throw new FormatException($"'{where}' is no length: write it as in 5=402mm, 5=+12mm or 5=15 13/16in.");
        bool by = where.StartsWith('+') || where.StartsWith('-');
        return new MoveTo(guide, by ? Rod.Rings[guide - 1].StationMm + (FromReel ? -mm : mm) : FromTip(mm), ring);
    }

    /// <exception cref="FormatException">Not such a text; the message is one sentence.</exception>
    public GuideChange Add(string text)
    {
        (string where, double? ring) = Ring(text.Trim());
        return LengthText.TryMm(where, Bare, out double mm) && mm >= 0
            ? new AddAt(FromTip(mm), ring)
            : throw new FormatException($"'{where}' is no station: write it as in 512mm or 20 3/16in.");
    }

    /// <exception cref="FormatException">Not such a text; the message is one sentence.</exception>
    public GuideChange Remove(string text) => new TakeOff(Guide(text, ""));

    /// <summary>A station as counted here, from the tip.</summary>
    public double FromTip(double stationMm) => FromReel ? Rod.ReelStationMm!.Value - stationMm : stationMm;

    private int Guide(string text, string example)
    {
        if (!int.TryParse(text, NumberStyles.AllowLeadingWhite | NumberStyles.AllowTrailingWhite, CultureInfo.InvariantCulture, out int guide))
            throw new FormatException($"'{text}' is no guide: write its number, counted from 1 at the reel, as in 5{example}.");
        int last = Rod.Rings.Count - 1;
        return guide >= 1 && guide <= last
            ? guide
            : throw new FormatException($"There is no guide {guide} that could change: the layout has {last}, counted from the reel, and the tip-top stays.");
    }

    private static (string Where, double? Ring) Ring(string text)
    {
        int at = text.IndexOf('@', StringComparison.Ordinal);
        if (at < 0)
            return (text, null);
        return double.TryParse(text[(at + 1)..], NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out double size) && size is > 0 and < 100
            ? (text[..at].Trim(), size)
            : throw new FormatException($"'{text[(at + 1)..]}' is no ring size: write it as in 512mm@8.");
    }
}
