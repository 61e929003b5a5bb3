using DeflectScan.Records.Model;
using DeflectScan.Reporting.Sheets;
using PdfSharp.Drawing;
using PdfSharp.Pdf;

namespace DeflectScan.Records.Reports;

/// <summary>Build sheets as one PDF file, each build beginning on a page of its own.</summary>
public static class BuildSheetPdf
{
    private const double MarginMm = 15;

    /// <summary>The file's bytes.</summary>
    public static byte[] Write(IReadOnlyList<BuildSheet> sheets, SheetPaper paper)
    {
        using PdfDocument document = SheetPage.Document(sheets.Count == 1 ? sheets[0].Build.Facts.Name : $"{sheets.Count} builds");
        foreach (BuildSheet sheet in sheets)
        {
            using Flow flow = new(document, paper);
            flow.Sheet(sheet);
        }

        return SheetPage.Save(document);
    }

    /// <summary>Lays one thing under the other and turns the page where it does not fit any more.</summary>
    private sealed class Flow(PdfDocument document, SheetPaper paper) : IDisposable
    {
        private static readonly XColor Shade = XColor.FromArgb(238, 238, 238);
        private SheetPage _page = new(document, paper, landscape: false);
        private double _y = MarginMm;

        private double Width => _page.WidthMm - (2 * MarginMm);

        public void Sheet(BuildSheet sheet)
        {
            _page.Text(_page.Fit(Safe(sheet.Build.Facts.Name), 6.4, Width, bold: true), MarginMm, _y + 5, 6.4, bold: true);
            _y += 11;
            foreach ((string name, string text) in sheet.Facts())
                Fact(name, text);
            _y += 2;
            if (sheet.Headline is { } headline)
                Words(headline, 3.5, bold: false);
            if (sheet.Pictures?.Overlay is { } overlay)
                Picture(overlay, 118);
            if (sheet.Pictures?.Unrolled is { } strip)
                Picture(strip, 80);
            if (sheet.Pictures?.Remark is { } remark)
                Words(remark, 3.2, bold: false);
            foreach (Findings.Finding finding in sheet.Measurement?.Findings ?? [])
                Words(finding.Message, 3.2, bold: false);
            foreach (SheetTable table in sheet.Tables())
                Table(table);
            if (sheet.Drawing() is { } layout)
            {
                Room(48);
                _y = new LayoutDrawing(layout, Width).Draw(_page, MarginMm, _y + 6) + 6;
            }

            Notes(sheet);
            Words("Take care", 3.8, bold: true);
            foreach (string caution in BuildSheet.Cautions)
                Words(caution, 3.3, bold: false);
        }

        public void Dispose() => _page.Dispose();

        private void Notes(BuildSheet sheet)
        {
            if (sheet.Build.Notes.Count > 0)
                Words("Notes", 3.8, bold: true);
            foreach (BuildNote note in sheet.Build.Notes)
                Words($"{note.At:yyyy-MM-dd}{(note.Kind == NoteKind.TestCast ? ", test cast" : "")}: {note.Text}", 3.3, bold: false);
        }

        private void Fact(string name, string text)
        {
            const double NameMm = 24;
            double height = Lines(text, 3.5, Width - NameMm) * 3.5 * 1.35;
            Room(height);
            _page.Text(name, MarginMm, _y + 3.5, 3.5, bold: true);
            _page.Paragraph(Safe(text), MarginMm + NameMm, _y + 3.5, 3.5, Width - NameMm);
            _y += height;
        }

        private void Words(string text, double size, bool bold)
        {
            Room((Lines(text, size, Width) * size * 1.35) + 1);
            if (bold)
            {
                _page.Text(Safe(text), MarginMm, _y + size + 1, size, bold: true);
                _y += size * 1.35 + 2;
                return;
            }

            _y = _page.Paragraph(Safe(text), MarginMm, _y + size, size, Width) - size + 1;
        }

        private void Picture(ReportPicture picture, double mostMm)
        {
            double scale = Math.Min(Width / picture.WidthPx, mostMm / picture.HeightPx);
            (double width, double height) = (picture.WidthPx * scale, picture.HeightPx * scale);
            Room(height + 4);
            _page.Picture(picture.Jpeg, MarginMm + ((Width - width) / 2), _y + 1, width, height);
            _y += height + 4;
        }

        private void Table(SheetTable table)
        {
            const double RowMm = 5.2;
            const double Size = 3.1;
            Room((Math.Min(table.Rows.Count, 3) + 2) * RowMm + 6);
            Words(table.Title, 3.8, bold: true);
            double cell = Width / table.Heads.Count;
            Line(table.Heads, bold: true, shaded: false);
            _page.Line(MarginMm, _y, MarginMm + Width, _y, 0.3);
            for (int i = 0; i < table.Rows.Count; i++)
            {
                if (Room(RowMm))
                    Line(table.Heads, bold: true, shaded: false);
                Line(table.Rows[i], bold: false, shaded: i % 2 == 0);
            }

            _y += 2;

            void Line(IReadOnlyList<string> texts, bool bold, bool shaded)
            {
                if (shaded)
                    _page.Fill(MarginMm, _y, Width, RowMm, Shade);
                for (int c = 0; c < texts.Count; c++)
                    _page.Text(_page.Fit(Safe(texts[c]), Size, cell - 1, bold), MarginMm + (c * cell) + 1, _y + (RowMm * 0.68), Size, bold);
                _y += RowMm;
            }
        }

        /// <summary>Turns the page where a height does not fit any more; true if it did.</summary>
        private bool Room(double heightMm)
        {
            if (_y + heightMm <= _page.HeightMm - MarginMm)
                return false;
            _page.Dispose();
            _page = new SheetPage(document, paper, landscape: false);
            _y = MarginMm;
            return true;
        }

        private int Lines(string text, double size, double width)
        {
            int lines = 1;
            double x = 0;
            foreach (string word in Safe(text).Split(' ', StringSplitOptions.RemoveEmptyEntries))
            {
                double w = _page.Width(word + " ", size);
                if (x > 0 && x + w > width)
                    (lines, x) = (lines + 1, 0);
                x += w;
            }

            return lines;
        }

        /// <summary>On one line, without what cannot be printed.</summary>
        private static string Safe(string text) => string.Concat(text.Select(c => char.IsControl(c) ? ' ' : c));
    }
}
