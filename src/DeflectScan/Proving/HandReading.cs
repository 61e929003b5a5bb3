using System.Globalization;
using System.Text.RegularExpressions;
using DeflectScan.Geometry;

namespace DeflectScan.Proving;

/// <summary>What a person reads at the bench.</summary>
public enum ReadingKind
{
    /// <summary>A distance along the blank, by tape: from the tip-top's ring to a guide's, or between two guides.</summary>
    Station,

    /// <summary>The largest distance from the line to the blank's surface between two successive rings, by caliper or feeler gauge.</summary>
    Gap,
}

/// <summary>One reading by hand. Guides count from 1 at the reel.</summary>
/// <param name="Kind">What was read.</param>
/// <param name="From">A guide.</param>
/// <param name="To">Another one; null: the tip-top.</param>
/// <param name="Mm">The reading, mm.</param>
/// <param name="UncertaintyMm">Its expanded uncertainty (95 %, two standard uncertainties), mm.</param>
public sealed partial record HandReading(ReadingKind Kind, int From, int? To, double Mm, double UncertaintyMm)
{
    /// <summary>Where no ± is given: a tape laid along a bent blank (common practice, no source).</summary>
    public const double UsualStationUncertaintyMm = 2;

    /// <summary>Where no ± is given: a caliper held beside a line that must not be touched (common practice, no source).</summary>
    public const double UsualGapUncertaintyMm = 0.5;

    /// <summary>Mm in the unit that the number was written in (1, 10, 1000, 25.4): a slip of the pen changes a digit of that number.</summary>
    public double WrittenUnitMm { get; init; } = 1;

    /// <summary>What is wrong with it, as one sentence; null where nothing is.</summary>
    public string? Problem =>
        From is < 1 or > 60 || To is < 1 or > 60 || From == To ? "A reading must be of different guides, counted from 1 at the reel."
        : Kind == ReadingKind.Station && Mm is not (>= 5 and <= 10_000) ? "A taped distance must be from 5 to 10000 mm."
        : Kind == ReadingKind.Gap && Mm is not (>= 0 and <= 1000) ? "A gap must be from 0 to 1000 mm."
        : UncertaintyMm is not (>= 0.01 and <= 100) ? "A reading must be known to ± 0.01 to 100 mm."
        : null;

    /// <summary>"guide 5 from the tip-top", "guides 2 to 5", "gap 3 to 4".</summary>
    public string Name => Kind == ReadingKind.Gap
        ? $"gap {From} to {(To is { } g ? $"{g}" : "tip-top")}"
        : To is { } other ? $"guides {From} to {other}" : $"guide {From} from the tip-top";

    /// <summary>
    /// Reads "5=612mm±1" (from the tip-top), "2-5=612", "3-4=14.2mm±0.3", "7-tip=25 3/16in+-1/16"; null where the text is none of these. What follows ± is
    /// in the reading's own unit unless it names another.
    /// </summary>
    /// <param name="kind">Of what.</param>
    /// <param name="text">As typed.</param>
    /// <param name="bare">What a number without a unit is in.</param>
    public static HandReading? Parse(ReadingKind kind, string text, LengthUnit bare = LengthUnit.Millimetres)
    {
        Match m = Form().Match(text);
        if (!m.Success || (kind == ReadingKind.Gap && !m.Groups["to"].Success))
            return null;
        int? to = !m.Groups["to"].Success || m.Groups["to"].Value.StartsWith("tip", StringComparison.OrdinalIgnoreCase) ? null : Whole(m.Groups["to"].Value);
        return Of(kind, Whole(m.Groups["from"].Value), to, m.Groups["length"].Value, m.Groups["pm"].Success ? m.Groups["pm"].Value : null, bare);
    }

    /// <summary>A reading from its words; null where a length is none.</summary>
    /// <param name="kind">Of what.</param>
    /// <param name="from">A guide.</param>
    /// <param name="to">Another one; null: the tip-top.</param>
    /// <param name="length">The reading, with its unit or without.</param>
    /// <param name="plusMinus">Its uncertainty; null: the usual one.</param>
    /// <param name="bare">What a number without a unit is in.</param>
    public static HandReading? Of(ReadingKind kind, int from, int? to, string length, string? plusMinus, LengthUnit bare)
    {
        length = length.Trim();
        if (!LengthText.TryMm(length, bare, out double mm) || mm < 0)
            return null;
        double unit = UnitMm(length, bare);
        double within = kind == ReadingKind.Gap ? UsualGapUncertaintyMm : UsualStationUncertaintyMm;
        if (!string.IsNullOrWhiteSpace(plusMinus))
        {
            string text = plusMinus.Trim();
            if (LengthText.IsBare(text))
                text += unit switch { 10 => "cm", 1000 => "m", UnitsText.MmPerInch => "in", _ => "mm" };
            if (!LengthText.TryMm(text, out within))
                return null;
        }

        return new HandReading(kind, from, to, mm, within) { WrittenUnitMm = unit };
    }

    // The unit of a length's last number.
    private static double UnitMm(string length, LengthUnit bare) =>
        LengthText.IsBare(length) ? (bare == LengthUnit.Inches ? UnitsText.MmPerInch : 1)
        : length.EndsWith("mm", StringComparison.OrdinalIgnoreCase) ? 1
        : length.EndsWith("cm", StringComparison.OrdinalIgnoreCase) ? 10
        : length.EndsWith('m') || length.EndsWith('M') ? 1000
        : UnitsText.MmPerInch;

    private static int Whole(string digits) => int.Parse(digits, CultureInfo.InvariantCulture);

    [GeneratedRegex(@"^\s*(?<from>\d{1,2})\s*(-\s*(?<to>\d{1,2}|tip-top|tip))?\s*=(?<length>[^±+]+)((±|\+-|\+/-)(?<pm>.+))?$", RegexOptions.ExplicitCapture | RegexOptions.IgnoreCase, 10_000)]
    private static partial Regex Form();
}
