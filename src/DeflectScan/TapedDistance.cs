using System.Globalization;
using System.Text.RegularExpressions;

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

    /// <summary>Reads "2-5=612mm±1", "2-5=612" or "3-tip=640+-1"; null where the text is none of these.</summary>
    public static TapedDistance? Parse(string text)
    {
        Match m = Form().Match(text.Replace(" ", "", StringComparison.Ordinal));
        if (!m.Success)
            return null;
        double Number(string name, double otherwise) =>
            m.Groups[name].Success ? double.Parse(m.Groups[name].Value, CultureInfo.InvariantCulture) : otherwise;
        return new TapedDistance(
            int.Parse(m.Groups["from"].Value, CultureInfo.InvariantCulture),
            m.Groups["to"].Value is "tip" or "tip-top" ? null : int.Parse(m.Groups["to"].Value, CultureInfo.InvariantCulture),
            Number("mm", 0), Number("pm", UsualPlusMinusMm));
    }

    [GeneratedRegex(@"^(?<from>\d{1,2})-(?<to>\d{1,2}|tip|tip-top)=(?<mm>\d{1,5}(\.\d{1,3})?)(mm)?((±|\+-|\+/-)(?<pm>\d{1,3}(\.\d{1,3})?)(mm)?)?$", RegexOptions.ExplicitCapture, 1000)]
    private static partial Regex Form();
}
