using System.Globalization;
using System.Net;
using System.Text;
using DeflectScan.Reporting.Sheets;

namespace DeflectScan.Records.Reports;

/// <summary>The straight blank with its guides to scale as an SVG picture that stands within an HTML page, the tip on the right; 1 mm is 1 unit.</summary>
internal static class BuildSheetSvg
{
    /// <summary>All sizes of letters and lines follow from the width, as the picture is scaled to the page's.</summary>
    private const double LetterShare = 0.0135;

    public static string Draw(string title, SheetLayout layout)
    {
        double length = layout.BlankLengthMm;
        double letter = length * LetterShare;
        double tallest = layout.Guides.Max(g => (g.HeightMm ?? 0) + ((g.RingSizeMm ?? 8) / 2));
        double axis = tallest + letter;
        StringBuilder marks = new();
        List<double> rowEnds = [];
        foreach (SheetGuide g in layout.Guides.OrderBy(g => g.FromTipMm))
        {
            (double x, double height) = (length - g.FromTipMm, g.HeightMm ?? 0);
            string text = $"{g.Label}: {g.FromTipMm:0}";
            double half = text.Length * letter * 0.3;
            double centre = Math.Clamp(x, half, length - half);
            int row = rowEnds.FindIndex(end => centre + half + (letter * 0.4) <= end);
            if (row < 0)
            {
                row = rowEnds.Count;
                rowEnds.Add(0);
            }

            rowEnds[row] = centre - half;
            double y = axis + (letter * (2.2 + (row * 1.4)));
            marks.Append(Invariant($"<path d=\"M{x:0.#} {axis:0.#}V{axis - height:0.#}M{x:0.#} {axis + (letter * 0.4):0.#}V{y - letter:0.#}\"/>"))
                .Append(Invariant($"<circle cx=\"{x:0.#}\" cy=\"{axis - height:0.#}\" r=\"{Math.Max(3, (g.RingSizeMm ?? 8) / 2):0.#}\"/>"))
                .Append(Invariant($"<text x=\"{centre:0.#}\" y=\"{y:0.#}\">{WebUtility.HtmlEncode(text)}</text>"));
        }

        double below = axis + (letter * (2.6 + (rowEnds.Count * 1.4)));
        double rule = length > 700 ? 500 : 100;
        return Invariant($"<svg class=\"drawing\" role=\"img\" aria-label=\"{WebUtility.HtmlEncode($"Drawing to scale of the {title}; the figures are in the tables.")}\" ")
            + Invariant($"viewBox=\"0 0 {length:0.#} {below + letter:0.#}\" style=\"font-size:{letter:0.#}px\" stroke-width=\"{letter * 0.08:0.##}\">")
            + Invariant($"<polygon points=\"0,{axis - 7:0.#} {length:0.#},{axis - 1.5:0.#} {length:0.#},{axis + 1.5:0.#} 0,{axis + 7:0.#}\"/>{marks}")
            + Invariant($"<path d=\"M0 {below - (letter * 0.4):0.#}V{below + (letter * 0.4):0.#}M0 {below:0.#}H{rule}M{rule} {below - (letter * 0.4):0.#}V{below + (letter * 0.4):0.#}\"/>")
            + Invariant($"<text class=\"left\" x=\"{rule + letter:0.#}\" y=\"{below + (letter * 0.35):0.#}\">{rule} mm</text>")
            + Invariant($"<text class=\"right\" x=\"{length:0.#}\" y=\"{below + (letter * 0.35):0.#}\">butt on the left, tip on the right</text></svg>\n");
    }

    private static string Invariant(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
