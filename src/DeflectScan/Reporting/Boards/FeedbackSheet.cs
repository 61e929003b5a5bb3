using DeflectScan.Geometry;
using DeflectScan.Photos;
using DeflectScan.Reporting.Drawing;
using DeflectScan.Reporting.Sheets;
using DeflectScan.Teaching;
using PdfSharp.Drawing;
using PdfSharp.Pdf;

namespace DeflectScan.Reporting.Boards;

/// <summary>The pictures of a feedback sheet; null where there is nothing to draw on.</summary>
/// <param name="Overlay">The photo with what was measured.</param>
/// <param name="Unrolled">The blank straightened, from the photo; null: it is drawn from the figures.</param>
public sealed record RodPictures(ReportPicture? Overlay, ReportPicture? Unrolled)
{
    /// <summary>What can be drawn of a photo that was measured before.</summary>
    /// <param name="photo">The photo, opened.</param>
    /// <param name="m">Its measurement.</param>
    /// <param name="unit">The unit of the labels.</param>
    public static RodPictures Of(UprightPhoto photo, Measurement m, LengthUnit unit) =>
        new(ReportPicture.OfPng(Reporting.Overlay.Draw(photo, m, new OverlayOptions(Unit: unit) { IsBare = true })), null);
}

/// <summary>One page for one student: the photo with its labels, the strip, what is good, the moves that gain most, the cautions.</summary>
public static class FeedbackSheet
{
    private const double MarginMm = 14;
    private const double Size = 4;
    private const string Caution = "Take care: a loaded rod can break or let go. Eye protection on, stay out of the cord's line, load it no further than its maker's rating and the tip no further than 90 degrees "
        + "to the butt, clamp it soundly; your instructor's rules come first. A measurement says how a layout looks under its load, not whether a rod is safe.";

    /// <summary>A PDF file's bytes.</summary>
    /// <param name="rod">The student's rod.</param>
    /// <param name="title">The class.</param>
    /// <param name="pictures">Its pictures.</param>
    /// <param name="paper">On what it is printed.</param>
    /// <param name="unit">The unit of the figures.</param>
    public static byte[] Draw(ClassRod rod, string title, RodPictures pictures, SheetPaper paper, LengthUnit unit = LengthUnit.Millimetres)
    {
        using PdfDocument document = SheetPage.Document($"{title}: {rod.Name}");
        using SheetPage page = new(document, paper, landscape: false);
        double width = page.WidthMm - (2 * MarginMm);
        page.Text(page.Fit(rod.Name, 8, width * 0.66, bold: true), MarginMm, MarginMm + 6, 8, bold: true);
        string right = page.Fit(title, Size, width * 0.32);
        page.TextRight(right, MarginMm + width, MarginMm + 6, Size);
        page.Line(MarginMm, MarginMm + 9.5, MarginMm + width, MarginMm + 9.5, 0.3);
        double y = Headline(page, rod, MarginMm + 16, width, unit);
        RodAdvice advice = RodAdvice.Of(rod);
        double text = TextHeight(page, rod, advice, width, unit);
        double room = page.HeightMm - MarginMm - y - text;
        Sketch? strip = pictures.Unrolled is null ? SheetStrip.Of(rod, unit) : null;
        double stripHeight = strip is null ? 0 : strip.Height * width / strip.Width;
        y = Picture(page, pictures.Overlay, y, width, strip is null ? room * 0.56 : room - stripHeight - 6);
        y = strip is null ? Picture(page, pictures.Unrolled, y, width, page.HeightMm - MarginMm - y - text - 4) : Strip(page, strip, y, width);
        foreach ((string head, IReadOnlyList<string> sentences) in Sections(rod, advice))
        {
            y += 2;
            page.Text(head, MarginMm, y + 4, 4.6, bold: true);
            y += 6;
            foreach (string sentence in sentences)
                y = page.Paragraph(UnitsInSentences.Of(sentence, unit), MarginMm, y + 4, Size, width) - 3.4;
        }

        page.Fill(MarginMm, y + 4, 1.2, 15, XColor.FromArgb(0x8a, 0x4b, 0x00));
        page.Paragraph(Caution, MarginMm + 4, y + 8, 3.4, width - 4);
        return SheetPage.Save(document);
    }

    private static double Headline(SheetPage page, ClassRod rod, double y, double width, LengthUnit unit)
    {
        (string words, XColor colour) = rod.Standing switch
        {
            RodStanding.Measured when rod.Photo.Measurement is { } m => ($"Measured: {OverlayWords.Headline(m, unit)}", XColor.FromArgb(0x0b, 0x6b, 0x4f)),
            RodStanding.LookFirst => ("To be looked at first, with your instructor", XColor.FromArgb(0x8a, 0x4b, 0x00)),
            _ => ("Not measured: take the photo again", XColor.FromArgb(0xa3, 0x16, 0x2b)),
        };
        page.Text(page.Fit(words, 4.6, width, bold: true), MarginMm, y, 4.6, bold: true, colour);
        if (rod.Bow is null)
            return y + 4;
        IReadOnlyList<string> figures = BoardColumns.Of(rod, unit);
        string[] parts = [.. figures.Select((f, i) => (f, i)).Where(p => p.f != "–").Select(p => $"{BoardColumns.Heads[p.i].Says} {p.f}{(p.i < 4 && p.f != "touches" ? $" {UnitsInSentences.Name(unit)}" : "")}")];
        return page.Paragraph(Sentence(string.Join(" · ", parts)), MarginMm, y + 6, 3.6, width) - 1.5;
    }

    private static string Sentence(string text) => text.Length == 0 ? text : char.ToUpperInvariant(text[0]) + text[1..];

    private static List<(string Head, IReadOnlyList<string> Sentences)> Sections(ClassRod rod, RodAdvice advice)
    {
        List<(string, IReadOnlyList<string>)> sections = [];
        if (rod.Why is { } why)
            sections.Add((rod.Standing == RodStanding.LookFirst ? "Look at this first" : "Why, and what to change", [why]));
        if (advice.Good.Count > 0)
            sections.Add(("What is good", advice.Good));
        if (advice.Moves.Count > 0)
            sections.Add((rod.Standing == RodStanding.LookFirst ? "What would gain most, if the figures stand" : "What gains most", advice.Moves));
        return sections;
    }

    /// <summary>What the words below the pictures take, mm, with the caution.</summary>
    private static double TextHeight(SheetPage page, ClassRod rod, RodAdvice advice, double width, LengthUnit unit)
    {
        double height = 20;
        foreach ((_, IReadOnlyList<string> sentences) in Sections(rod, advice))
            height += 8 + sentences.Sum(s => Lines(page, UnitsInSentences.Of(s, unit), width) * Size * 1.35) + 2;
        return height;
    }

    private static int Lines(SheetPage page, string text, double width) => Typefaces.Wrap(text, (float)Size, (float)(width * 0.97)).Count;

    private static double Strip(SheetPage page, Sketch strip, double y, double width)
    {
        SketchPrint.Draw(page, strip, MarginMm, y + 1, width / strip.Width);
        return y + (strip.Height * width / strip.Width) + 3;
    }

    private static double Picture(SheetPage page, ReportPicture? picture, double y, double width, double mostHeight)
    {
        if (picture is null || mostHeight < 20)
            return y;
        double height = Math.Min(mostHeight, width * picture.HeightPx / picture.WidthPx);
        double shown = height * picture.WidthPx / picture.HeightPx;
        page.Picture(picture.Jpeg, MarginMm + ((width - shown) / 2), y + 1, shown, height);
        return y + height + 4;
    }
}
