using System.Globalization;
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
    private readonly IReadOnlyList<GuideModel> _guides;

    private GuideTable(IReadOnlyList<GuideModel> guides) => _guides = guides;

    /// <summary>All guides of the table, in its order.</summary>
    public IReadOnlyList<GuideModel> Guides => _guides;

    /// <summary>The guide with a ring size; null where there is none.</summary>
    public GuideModel? OfSize(double ringSize) => _guides.FirstOrDefault(g => Math.Abs(g.RingSize - ringSize) < 0.05);

    /// <summary>The guide whose ring is nearest to a measured outer diameter, within 15 %; null where none is.</summary>
    public GuideModel? Nearest(double outerMm) =>
        _guides.MinBy(g => Math.Abs(g.RingSize - outerMm)) is { } g && Math.Abs(g.RingSize - outerMm) <= 0.15 * outerMm ? g : null;

    /// <summary>Reads a table.</summary>
    /// <exception cref="FormatException">Not such a table; the message is one sentence that names the line.</exception>
    public static GuideTable Parse(string text)
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
                    throw new FormatException("The guide table's first line must name its columns: ring,height_mm,mass_g,bore_mm (the last two may be missing).");
                continue;
            }

            if (guides.Count == MostRows)
                throw new FormatException($"The guide table has more than {MostRows} rows.");
            guides.Add(Row(heads, cells, number));
        }

        return guides.Count > 0 ? new GuideTable(guides) : throw new FormatException("The guide table names no guide: give at least one row under the heading.");
    }

    private static GuideModel Row(string[] heads, string[] cells, int line)
    {
        double? Cell(string head, double most)
        {
            int at = Array.FindIndex(heads, h => h.Equals(head, StringComparison.OrdinalIgnoreCase));
            if (at < 0 || at >= cells.Length || cells[at].Length == 0)
                return null;
            return double.TryParse(cells[at], NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out double v) && v > 0 && v <= most
                ? v
                : throw new FormatException($"Line {line} of the guide table: {head} must be a number above 0 and at most {most}.");
        }

        if (Cell("ring", 100) is not { } ring || Cell("height_mm", 200) is not { } height)
            throw new FormatException($"Line {line} of the guide table needs a ring size and a height_mm.");
        double bore = Cell("bore_mm", 100) ?? GuidePractice.BoreMm(ring);
        return bore < 2 * height
            ? new GuideModel(ring, height, Cell("mass_g", 200), bore)
            : throw new FormatException($"Line {line} of the guide table: the ring's hole would reach the blank; height_mm is from the blank's surface to the ring's middle.");
    }
}
