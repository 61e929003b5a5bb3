using DeflectScan.Reporting.Sheets;
using PdfSharp.Pdf;

namespace DeflectScan.Records.Reports;

/// <summary>Build sheets as one PDF file, each build beginning on a page of its own.</summary>
public static class BuildSheetPdf
{
    private const double PhotoMm = 112;
    private const double StripMm = 84;

    /// <summary>The file's bytes.</summary>
    public static byte[] Write(IReadOnlyList<BuildSheet> sheets, SheetPaper paper)
    {
        using PdfDocument document = SheetPage.Document(sheets.Count == 1 ? sheets[0].Title : $"{sheets.Count} builds");
        foreach (BuildSheet sheet in sheets)
        {
            using SheetFlow flow = new(document, paper, sheet.Title);
            Sheet(flow, sheet);
        }

        return SheetPage.Save(document);
    }

    private static void Sheet(SheetFlow flow, BuildSheet sheet)
    {
        flow.Words(sheet.Title, 6.4, bold: true);
        flow.Space(1.5);
        foreach ((string name, string text) in sheet.Facts())
            flow.Fact(name, text);
        flow.Space(2);
        if (sheet.Headline is { } headline)
            flow.Words(headline, 3.5, bold: true);
        foreach (string warning in sheet.Warnings())
            flow.Words(warning, 3.2);
        if (sheet.Pictures?.Overlay is { } overlay)
            flow.Picture(overlay, PhotoMm);
        if (sheet.Pictures?.Unrolled is { } strip)
            flow.Picture(strip, StripMm);
        foreach (SheetTable table in sheet.Tables())
            flow.Table(table);
        if (sheet.Drawing() is { } drawing)
            flow.Drawing(drawing.Title, drawing.Layout);
        if (sheet.Build.Notes.Count > 0)
            flow.Title("Notes");
        foreach (string note in sheet.Notes())
            flow.Words(note, 3.3);
        flow.Title("Take care");
        foreach (string caution in BuildSheet.Cautions)
            flow.Words(caution, 3.3);
    }
}
