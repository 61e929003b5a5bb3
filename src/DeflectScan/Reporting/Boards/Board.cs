using DeflectScan.Geometry;
using DeflectScan.Reporting.Sheets;
using DeflectScan.Teaching;
using PdfSharp.Pdf;

namespace DeflectScan.Reporting.Boards;

/// <summary>A class side by side: as a picture for a slide and as a print for the wall; <see cref="BoardHtml"/> is the same for a browser.</summary>
public static class Board
{
    /// <summary>Pixels of a projector's one: the picture is 1920 wide.</summary>
    private const float PxPerUnit = 1.5f;

    private const double SlideHeight = 720;

    /// <summary>A PNG file's bytes, 1920 by 1080 px, or higher where the class is large. The same class gives the same bytes.</summary>
    public static byte[] Png(ClassReport report, LengthUnit unit = LengthUnit.Millimetres) => SketchPicture.Png(BoardSheet.One(report, unit, SlideHeight), PxPerUnit);

    /// <summary>A PDF file's bytes: A3, or tabloid for letter paper, landscape; pages as needed.</summary>
    public static byte[] Pdf(ClassReport report, SheetPaper paper, LengthUnit unit = LengthUnit.Millimetres)
    {
        (double width, double height) = paper == SheetPaper.A4 ? (420.0, 297.0) : (431.8, 279.4);
        const double MarginMm = 8;
        double mmPerUnit = (width - (2 * MarginMm)) / BoardSheet.Width;
        using PdfDocument document = SheetPage.Document($"Board: {report.Options.Title}");
        foreach (Sketch sketch in BoardSheet.Pages(report, unit, (height - (2 * MarginMm)) / mmPerUnit))
        {
            using SheetPage page = new(document, width, height);
            SketchPrint.Draw(page, sketch, MarginMm, MarginMm, mmPerUnit);
        }

        return SheetPage.Save(document);
    }
}
