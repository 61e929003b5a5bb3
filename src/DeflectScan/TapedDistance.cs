using System.Globalization;
using System.Text.RegularExpressions;
using DeflectScan.Geometry;

namespace DeflectScan;

/// <summary>A distance along the blank between the rings of two guides, by tape.</summary>
/// <param name="From">Guide, counted from the reel.</param>
/// <param name="To">Another guide; null: the tip-top.</param>
/// <param name="Mm">Taped, mm.</param>
/// <param name="PlusMinusMm">Half width of the interval that it is known to lie in (uniform distribution), mm.</param>
public sealed partial record TapedDistance(int From, int? To, double Mm, double PlusMinusMm)
{
    /// <summary>Reading a tape between two rings, where nothing else is said (common practice, no source).</summary>
    public const double UsualPlusMinusMm = 2;

    /// <summary>What is wrong with it, as one sentence; null where nothing is.</summary>
    public string? Problem =>
        From is < 1 or > 30 || To is < 1 or > 30 || From == To ? "A taped distance must be between two different guides, counted from 1 at the reel."
        : Mm is not (>= 10 and <= 10_000) ? "A taped distance must be from 10 to 10000 mm."
        : PlusMinusMm is not (>= 0.1 and <= 100) ? "A taped distance must be known to ± 0.1 to 100 mm."
        : null;

    /// <summary>
    /// Reads "2-5=612mm±1", "2-5=612", "3-tip=640+-1" or "3-tip=25 3/16in±1/16"; null where the text is none of these. What follows ± is in the
    /// distance's own unit unless it names another.
    /// </summary>
    /// <param name="text">As typed.</param>
    /// <param name="bare">What a number without a unit is in.</param>
    public static TapedDistance? Parse(string text, LengthUnit bare = LengthUnit.Millimetres)
    {
        Match m = Form().Match(text);
        string length = m.Groups["length"].Value.TrimEnd();
        if (!m.Success || !LengthText.TryMm(length, bare, out double mm) || mm <= 0)
            return null;
        bool named = !LengthText.IsBare(length);
        bool inches = named ? Imperial().IsMatch(length) : bare == LengthUnit.Inches;
        if (named && !inches && !length.EndsWith("mm", StringComparison.Ordinal))
            return null;
        double within = UsualPlusMinusMm;
        if (m.Groups["pm"].Success && !LengthText.TryMm(m.Groups["pm"].Value, inches ? LengthUnit.Inches : LengthUnit.Millimetres, out within))
            return null;
        return new TapedDistance(
            int.Parse(m.Groups["from"].Value, CultureInfo.InvariantCulture),
            m.Groups["to"].Value is "tip" or "tip-top" ? null : int.Parse(m.Groups["to"].Value, CultureInfo.InvariantCulture),
            mm, within);
    }

    [GeneratedRegex(@"^\s*(?<from>\d{1,2})\s*-\s*(?<to>\d{1,2}|tip|tip-top)\s*=(?<length>[^±+]+)((±|\+-|\+/-)(?<pm>.+))?$", RegexOptions.ExplicitCapture, 10_000)]
    private static partial Regex Form();

    [GeneratedRegex("(in|ft|\"|')\\s*$", RegexOptions.IgnoreCase | RegexOptions.ExplicitCapture, 10_000)]
    private static partial Regex Imperial();
}
