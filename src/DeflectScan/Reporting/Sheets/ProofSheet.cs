using DeflectScan.Desk;
using DeflectScan.Geometry;
using PdfSharp.Drawing;
using PdfSharp.Pdf;

namespace DeflectScan.Reporting.Sheets;

/// <summary>
/// One page to fill in at the bench: the measured rod with its guides, what to tape and which gaps to read where, each three times, and the cautions. The photo's own
/// figures of these are left out, so that nobody reads what they expect.
/// </summary>
public static class ProofSheet
{
    private const double MarginMm = 14;
    private const double MostDrawingMm = 70;
    private const int MostGuides = 30;
    private static readonly XColor Grey = XColor.FromArgb(120, 120, 120);

    internal static readonly string[] Cautions =
    [
        "The rod stays tied off as it was in the photo. It can break and the cord can snap back: eye protection on, out of the cord's line, hands off the cord.",
        "Tape: lay it along the blank, not across the bend; from where the line touches the tip-top's ring to where it touches the guide's. Use the tape's middle, not its hook.",
        "Gaps: from the line to the blank's surface, square to the blank. Do not touch the line: it yields. Bring the jaws beside it until they just cover it.",
        "Read three times, each time anew. ± is what you trust 19 of 20 readings to be within; with none given the program takes 2 mm for a tape and 0.5 mm for a gap.",
    ];

    /// <summary>Draws the sheet as a PDF file's bytes.</summary>
    /// <param name="rod">The measured rod; at most 30 guides.</param>
    /// <param name="title">The rod or photo, one line.</param>
    /// <param name="paper">On what.</param>
    /// <param name="then">How the filled-in readings are held against the photo, one line.</param>
    /// <param name="unit">What lengths are written in.</param>
    /// <exception cref="ArgumentException">More guides than a page holds.</exception>
    public static byte[] Draw(MeasuredLayout rod, string title, SheetPaper paper, string then, LengthUnit unit = LengthUnit.Millimetres)
    {
        int guides = rod.Rings.Count - 1;
        if (guides > MostGuides)
            throw new ArgumentException($"A sheet of one page holds at most {MostGuides} guides.", nameof(rod));
        using PdfDocument document = SheetPage.Document($"Proof: {title}");
        using SheetPage page = new(document, paper, landscape: false);
        double width = page.WidthMm - (2 * MarginMm);
        page.Text(page.Fit($"Proof at the bench: {title}", 5.6, width, bold: true), MarginMm, MarginMm + 4, 5.6, bold: true);
        page.Text("Date                                    Read by                                                Tape                                    Caliper", MarginMm, MarginMm + 10.5, 3.2);
        double y = MarginMm + 14;
        y += DrawRod(page, rod, MarginMm, y, width) + 5;

        const double CautionsMm = 43;
        double room = page.HeightMm - MarginMm - CautionsMm - y;
        int rows = Math.Max(guides + guides - 1 + 4, guides + 2);
        double row = Math.Min(6.4, room / rows);
        double half = (width - 6) / 2;
        double left = Table(page, "Tape, from the tip-top's ring", unit, [.. Enumerable.Range(1, guides).Select(g => ($"to guide {g}", ""))], MarginMm, y, half, row);
        left = Table(page, "Tape, guide to guide", unit, [.. Enumerable.Range(1, guides - 1).Select(g => ($"{g} to {g + 1}", ""))], MarginMm, left + (row / 2), half, row);
        double right = Table(page, "Gaps, where they are largest", unit, [.. rod.Measurement.Intervals.Select(p => ($"{p.From} to {(p.To > guides ? "tip-top" : p.To)}", Place(rod, p, unit)))], MarginMm + half + 6, y, half, row);
        _ = right;

        y = page.HeightMm - MarginMm - CautionsMm + 5;
        page.Line(MarginMm, y - 5, MarginMm + width, y - 5, 0.3);
        foreach (string caution in Cautions)
            y = page.Paragraph(UnitsInSentences.Of(caution, unit), MarginMm, y, 3.1, width) + 0.8;
        page.Paragraph(then, MarginMm, y, 3.1, width);
        return SheetPage.Save(document);
    }

    /// <summary>Where along the blank a pair's gap is largest, from the guide next to it.</summary>
    internal static string Place(MeasuredLayout rod, IntervalReport pair, LengthUnit unit)
    {
        const double AtRingMm = 3;
        double from = rod.Rings[pair.From - 1].StationMm - pair.GapAtMm;
        double to = pair.GapAtMm - rod.Rings[pair.To - 1].StationMm;
        string other = pair.To == rod.Rings.Count ? "the tip-top" : $"{pair.To}";
        if (from < AtRingMm)
            return $"at the ring of {pair.From}";
        if (to < AtRingMm)
            return $"at the ring of {other}";
        return from <= to ? $"{Short(from, unit)} from {pair.From}" : $"{Short(to, unit)} from {other}";
    }

    private static string Short(double mm, LengthUnit unit) => unit == LengthUnit.Millimetres ? $"{mm:0} mm" : UnitsText.Sixteenths(mm);

    // The bent blank as the photo shows it, its rings with their numbers, the line, and dashes where gaps are read. Gives its height, mm.
    private static double DrawRod(SheetPage page, MeasuredLayout rod, double left, double top, double width)
    {
        Vec2[] axis = [.. rod.Measurement.Blank!.Axis.Select(a => a.Mm)];
        Vec2[] all = [.. axis, .. rod.Rings.Select(r => r.PointMm)];
        (double minX, double maxX, double minY, double maxY) = (all.Min(p => p.X), all.Max(p => p.X), all.Min(p => p.Y), all.Max(p => p.Y));
        const double RoundMm = 5; // for the numbers
        double scale = Math.Min((width - (2 * RoundMm)) / (maxX - minX), (MostDrawingMm - (2 * RoundMm)) / (maxY - minY));
        double aside = (width - ((maxX - minX) * scale)) / 2;
        XPoint At(Vec2 p) => new(left + aside + ((p.X - minX) * scale), top + RoundMm + ((maxY - p.Y) * scale));
        foreach ((Vec2 a, Vec2 b) in axis.Zip(axis.Skip(1)))
            Line(page, At(a), At(b), 0.9, Grey);
        foreach (IntervalReport pair in rod.Measurement.Intervals)
        {
            Vec2 foot = rod.Shape.Axis.Point(pair.GapAtMm);
            Vec2 a = rod.Rings[pair.From - 1].PointMm;
            Vec2 b = rod.Rings[pair.To - 1].PointMm;
            Line(page, At(a), At(b), 0.2, XColors.Black);
            double share = Math.Clamp((foot - a).Dot(b - a) / (b - a).Dot(b - a), 0, 1);
            page.Line(At(foot).X, At(foot).Y, At(Vec2.Lerp(a, b, share)).X, At(Vec2.Lerp(a, b, share)).Y, 0.25, XDashStyle.Dot);
        }

        for (int i = 0; i < rod.Rings.Count; i++)
        {
            Vec2 foot = rod.Shape.Axis.Point(rod.Rings[i].StationMm);
            if (i < rod.Rings.Count - 1)
                RingAt(page, At(rod.Rings[i].PointMm), At(foot), $"{i + 1}");
            else
                TipAt(page, At(rod.Rings[i].PointMm), At(foot - (rod.Shape.Axis.Tangent(0) * (5.5 / scale))));
        }

        return ((maxY - minY) * scale) + (2 * RoundMm);
    }

    private static void RingAt(SheetPage page, XPoint ring, XPoint foot, string name)
    {
        page.Line(ring.X, ring.Y, foot.X, foot.Y, 0.3);
        page.Circle(ring.X, ring.Y, 0.9, 0.3);
        (double dx, double dy) = (ring.X - foot.X, ring.Y - foot.Y);
        double length = Math.Max(1e-6, Math.Sqrt((dx * dx) + (dy * dy)));
        // Beyond the blank, away from the line, where nothing else is drawn.
        page.TextCentred(name, foot.X - (dx / length * 3.6), foot.Y - (dy / length * 3.2) + 1.1, 3.1, bold: true);
    }

    // Its name stands beyond the blank's end.
    private static void TipAt(SheetPage page, XPoint ring, XPoint beyond)
    {
        page.Circle(ring.X, ring.Y, 0.9, 0.3);
        page.TextCentred("tip-top", beyond.X, beyond.Y + 1.1, 3.1, bold: true);
    }

    private static void Line(SheetPage page, XPoint a, XPoint b, double widthMm, XColor colour) => page.Line(a.X, a.Y, b.X, b.Y, widthMm, colour: colour);

    private static double Table(SheetPage page, string title, LengthUnit unit, (string Name, string Where)[] lines, double left, double top, double width, double row)
    {
        if (lines.Length == 0)
            return top;
        double size = Math.Min(3.2, row * 0.6);
        bool places = lines.Any(l => l.Where.Length > 0);
        double cells = left + (places ? 48 : 22);
        double cell = (left + width - cells) / 4;
        double baseline = (row / 2) + (size * 0.36);
        page.Text($"{title}, {UnitsInSentences.Name(unit)}", left, top + baseline, size, bold: true);
        for (int c = 0; c < 4; c++)
            page.TextCentred(c < 3 ? $"{c + 1}" : "±", cells + ((c + 0.5) * cell), top + row + (baseline * 0.9), size * 0.85);
        double y = top + row + (row * 0.7);
        for (int i = 0; i < lines.Length; i++, y += row)
        {
            page.Text(lines[i].Name, left, y + baseline, size);
            if (places)
                page.Text(page.Fit(lines[i].Where, size * 0.92, 26), left + 21, y + baseline, size * 0.92);
            for (int c = 0; c < 4; c++)
                page.Rectangle(cells + (c * cell), y, cell, row, 0.15);
        }

        return y;
    }
}
