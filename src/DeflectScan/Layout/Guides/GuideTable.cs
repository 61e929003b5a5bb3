using System.Globalization;
using DeflectScan.Findings;
using DeflectScan.Layout.Start;

namespace DeflectScan.Layout.Guides;

/// <summary>A guide as the builder has it in hand.</summary>
/// <param name="RingSize">Ring size number: about the ring's outer diameter in mm.</param>
/// <param name="HeightMm">From the blank's surface under the feet to the ring's middle, mm.</param>
/// <param name="MassG">The guide's mass in g; null where the table does not say.</param>
/// <param name="BoreMm">The ring's hole in mm.</param>
public sealed record GuideModel(double RingSize, double HeightMm, double? MassG, double BoreMm)
{
    /// <summary>
    /// Distance in mm from the blank's axis to where a taut line touches the ring. Inside the bend the line pulls away from the blank, so it lies
    /// at the far rim; outside it pulls towards the blank and lies at the near one.
    /// </summary>
    public double ContactDistanceMm(double blankRadiusMm, GuideSide side) =>
        blankRadiusMm + HeightMm + (side == GuideSide.Inside ? BoreMm / 2 : -BoreMm / 2);
}

/// <summary>
/// The guides at hand, from a text of comma-separated values with a heading: <c>ring,height_mm,mass_g,bore_mm</c> (the last two may be missing).
/// Lines that begin with # are passed over. Without a bore the usual one for the ring size is taken (common practice, no source).
/// </summary>
public sealed class GuideTable
{
    private const int MostRows = 1000;

    private static readonly (string Head, double Most)[] Columns = [("ring", 100), ("height_mm", 200), ("mass_g", 200), ("bore_mm", 100)];

    private readonly IReadOnlyList<GuideModel> _guides;

    private GuideTable(IReadOnlyList<GuideModel> guides) => _guides = guides;

    /// <summary>All guides of the table, in its order.</summary>
    public IReadOnlyList<GuideModel> Guides => _guides;

    /// <summary>The guide with a ring size; null where there is none.</summary>
    public GuideModel? OfSize(double ringSize) => _guides.FirstOrDefault(g => Math.Abs(g.RingSize - ringSize) < 0.05);

    /// <summary>The guide whose ring is nearest to a measured outer diameter, within 15 %; null where none is.</summary>
    public GuideModel? Nearest(double outerMm) =>
        _guides.MinBy(g => Math.Abs(g.RingSize - outerMm)) is { } g && Math.Abs(g.RingSize - outerMm) <= 0.15 * outerMm ? g : null;

    /// <summary>The table, or one sentence that names the line on why it is none.</summary>
    public static Outcome<GuideTable> Parse(string text)
    {
        List<GuideModel> guides = [];
        string[]? heads = null;
        int number = 0;
        foreach (string raw in text.Split('\n'))
        {
            number++;
            string line = raw.Trim().TrimStart('\uFEFF');
            if (line.Length == 0 || line[0] == '#')
                continue;
            string[] cells = [.. line.Split(',').Select(c => c.Trim())];
            if (heads is null)
            {
                heads = cells;
                if (!heads.Contains("ring", StringComparer.OrdinalIgnoreCase) || !heads.Contains("height_mm", StringComparer.OrdinalIgnoreCase))
                    return Refused("The guide table's first line must name its columns: ring,height_mm,mass_g,bore_mm (the last two may be missing).");
                continue;
            }

            if (guides.Count == MostRows)
                return Refused($"The guide table has more than {MostRows} rows.");
            if (Row(heads, cells, out string problem) is not { } guide)
                return Refused($"Line {number} of the guide table{problem}");
            guides.Add(guide);
        }

        return guides.Count > 0 ? Outcome<GuideTable>.Of(new GuideTable(guides)) : Refused("The guide table names no guide: give at least one row under the heading.");

        static Outcome<GuideTable> Refused(string message) => Outcome<GuideTable>.Refused(FindingCode.FileUnreadable, message);
    }

    // The guide of a row, or the end of a sentence on what is wrong.
    private static GuideModel? Row(string[] heads, string[] cells, out string problem)
    {
        double?[] values = new double?[Columns.Length];
        for (int k = 0; k < Columns.Length; k++)
        {
            (string head, double most) = Columns[k];
            int at = Array.FindIndex(heads, h => h.Equals(head, StringComparison.OrdinalIgnoreCase));
            if (at < 0 || at >= cells.Length || cells[at].Length == 0)
                continue;
            problem = $": {head} must be a number above 0 and at most {most}.";
            if (!double.TryParse(cells[at], NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out double v) || !(v > 0 && v <= most))
                return null;
            values[k] = v;
        }

        problem = " needs a ring size and a height_mm.";
        if (values is not [{ } ring, { } height, var mass, var given])
            return null;
        problem = ": the ring's hole would reach the blank; height_mm is from the blank's surface to the ring's middle.";
        double bore = given ?? GuidePractice.BoreMm(ring);
        return bore < 2 * height ? new GuideModel(ring, height, mass, bore) : null;
    }
}
