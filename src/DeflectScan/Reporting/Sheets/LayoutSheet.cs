using DeflectScan.Geometry;
using PdfSharp.Drawing;
using PdfSharp.Pdf;

namespace DeflectScan.Reporting.Sheets;

/// <summary>The layout on one printed page: a table from the reel and from the tip in mm and inches, a drawing to scale, cautions.</summary>
public static class LayoutSheet
{
    private const double MarginMm = 15;

    /// <summary>Room that a caution takes at most: two lines.</summary>
    private const double CautionMm = 11;

    internal static readonly string[] Cautions =
    [
        "Stations are measured along the blank's axis, from the tip-top's ring as it stands on the blank. Sixteenths are rounded to the nearest one (at most 0.8 mm off); "
            + "where it matters use the millimetres.",
        "Measure each mark a second time from the other end before wrapping.",
        "When loading a rod for a test: wear eye protection, stay out of the cord's line, load no further than the maker's rating, use sound clamps and cord, "
            + "and follow your local rules and your own training first.",
    ];

    /// <summary>Lines for so many guides fit on a page.</summary>
    public const int MostGuides = 40;

    /// <summary>Why a layout cannot be printed, one sentence; null where it can.</summary>
    public static string? Problem(SheetLayout layout) => layout.Guides.Count > MostGuides ? $"A printed layout holds at most {MostGuides} guides: print one with fewer." : null;

    /// <summary>Draws the sheet as a PDF file's bytes.</summary>
    /// <exception cref="ArgumentException">No guide, more than <see cref="MostGuides"/>, or a station that is not on the blank.</exception>
    /// <param name="layout">What to print.</param>
    /// <param name="paper">On what.</param>
    /// <param name="unit">The unit that comes first.</param>
    /// <param name="date">When it is printed; null: the sheet has no date.</param>
    public static byte[] Draw(SheetLayout layout, SheetPaper paper, LengthUnit unit = LengthUnit.Millimetres, DateOnly? date = null)
    {
        SheetChecks.Check(layout);
        if (Problem(layout) is { } problem)
            throw new ArgumentException(problem, nameof(layout));
        using PdfDocument document = SheetPage.Document($"Layout: {layout.Title}");
        using SheetPage page = new(document, paper, landscape: false);
        double width = page.WidthMm - (2 * MarginMm);
        page.Text(page.Fit(layout.Title, 6.4, width, bold: true), MarginMm, MarginMm + 5, 6.4, bold: true);
        page.Text(
            $"{(layout.LengthIsTraced ? "Length known, from the tip: " : "Blank ")}{UnitsText.Both(layout.BlankLengthMm, unit)} · {layout.Guides.Count} stations{(date is { } day ? $" · {day:yyyy-MM-dd}" : "")}",
            MarginMm, MarginMm + 11.5, 3.5);
        double y = Table(page, layout, unit, MarginMm + 18, width);
        string[] last = SheetChecks.Crowded(layout) is { } crowded ? [UnitsInSentences.Of(crowded, unit), .. Cautions] : Cautions;
        double room = page.HeightMm - MarginMm - (y + 10) - (9 + (last.Length * CautionMm));
        y = new LayoutDrawing(layout, width, unit).Draw(page, MarginMm, y + 10, room);
        y += 9;
        foreach (string caution in last)
            y = page.Paragraph(caution, MarginMm, y, 3.5, width) + 1;
        return SheetPage.Save(document);
    }

    private static double Table(SheetPage page, SheetLayout layout, LengthUnit unit, double top, double width)
    {
        bool reel = layout.Guides.Any(g => g.FromReelMm is not null);
        Column[] columns =
        [
            new("guide", 0.07, g => g.Label, Right: false),
            new("kind", 0.21, g => g.Kind, Right: false),
            .. layout.Guides.Any(g => g.RingSizeMm is not null)
                ? (Column[])[new("ring", 0.08, g => g.RingSizeMm is { } r ? $"{r:0.#}" : "–", Right: true)]
                : [],
            .. layout.Guides.Any(g => g.HeightMm is not null)
                ? (Column[])[new($"height, {UnitsInSentences.Name(unit)}", 0.13, g => g.HeightMm is { } h ? UnitsInSentences.Bare(h, unit) : "–", Right: true)]
                : [],
            .. Stations("from tip", g => g.FromTipMm),
            .. reel ? Stations("from reel", g => g.FromReelMm) : [],
        ];
        Column[] Stations(string from, Func<SheetGuide, double?> at)
        {
            Func<SheetGuide, string> mm = g => at(g) is { } s ? UnitsInSentences.Bare(s, LengthUnit.Millimetres) : "–", sixteenths = g => at(g) is { } s ? UnitsText.Sixteenths(s) : "–";
            return unit == LengthUnit.Millimetres
                ? [new($"{from}, mm", 0.14, mm, Right: true), new("inches", 0.14, sixteenths, Right: true)]
                : [new($"{from}, in", 0.14, sixteenths, Right: true), new("mm", 0.14, mm, Right: true)];
        }

        double stretch = width / columns.Sum(c => c.Share);
        double row = Math.Min(9, 128.0 / (layout.Guides.Count + 1));
        double size = Math.Min(4, row * 0.62);
        double y = top;
        for (int i = -1; i < layout.Guides.Count; i++, y += row)
        {
            if (i >= 0 && i % 2 == 0)
                page.Fill(MarginMm, y, width, row, XColor.FromArgb(238, 238, 238));
            double x = MarginMm;
            foreach (Column c in columns)
            {
                double cell = c.Share * stretch;
                double cellSize = i < 0 ? Math.Min(3.1, size) : size;
                string text = page.Fit(i < 0 ? c.Head : c.Text(layout.Guides[i]), cellSize, cell - 1.6, bold: i < 0);
                double baseline = y + (row / 2) + (cellSize * 0.36);
                if (c.Right)
                    page.TextRight(text, x + cell - 1.2, baseline, cellSize, bold: i < 0);
                else
                    page.Text(text, x + 1.2, baseline, cellSize, bold: i < 0 || c.Head == "guide");
                x += cell;
            }

            if (i < 0)
                page.Line(MarginMm, y + row, MarginMm + width, y + row, 0.3);
        }

        page.Line(MarginMm, y, MarginMm + width, y, 0.3);
        return y;
    }

    private sealed record Column(string Head, double Share, Func<SheetGuide, string> Text, bool Right);
}
