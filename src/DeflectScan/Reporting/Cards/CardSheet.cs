using DeflectScan.Calibration.Cards;
using DeflectScan.Geometry;

namespace DeflectScan.Reporting.Cards;

/// <summary>An axis-parallel box on the sheet, mm from its top-left corner, y down.</summary>
internal readonly record struct SheetBox(double X, double Y, double Width, double Height, bool Black);

/// <summary>A line of text. Y is the baseline; X the left end, the middle or the right end, by Anchor (0, 0.5, 1).</summary>
internal readonly record struct SheetText(double X, double Y, double Anchor, double SizeMm, bool Bold, string Text);

/// <summary>One printed card in mm: what every kind of file draws. Boxes later in the list lie over earlier ones.</summary>
internal sealed record CardSheet(double WidthMm, double HeightMm, IReadOnlyList<SheetBox> Boxes, IReadOnlyList<SheetText> Texts)
{
    public const double RuleMm = 100;
    private const double Hairline = 0.25;
    private const double FootMm = 14.6;

    /// <summary>Lays a card out: the pattern in the middle across the sheet, its letter, a line of instruction, one of caution and the check rule below.</summary>
    public static CardSheet For(char letter, Paper paper)
    {
        (double width, double height) = PaperSize.Of(paper);
        double left = (width - ScaleCard.PatternWidthMm) / 2;
        double top = (height - ScaleCard.PatternHeightMm - FootMm) / 2;
        double foot = top + ScaleCard.PatternHeightMm;
        List<SheetBox> boxes = [.. Pattern(letter, left, top)];
        List<SheetText> texts = [];

        const double badge = 11.5;
        boxes.Add(new SheetBox(left, foot + 3, badge, badge, true));
        boxes.Add(new SheetBox(left + 0.6, foot + 3.6, badge - 1.2, badge - 1.2, false));
        texts.Add(new SheetText(left + (badge / 2), foot + 3 + (badge / 2) + 3.05, 0.5, 8.5, true, $"{letter}"));

        double textLeft = left + badge + 4;
        texts.Add(new SheetText(
            textLeft, foot + 5, 0, 2.75, false,
            "Print at 100 %, check the rule, glue flat on stiff matt board, stand it in the plane of the rod with all of it in view."));
        texts.Add(new SheetText(
            textLeft, foot + 8.2, 0, 2.75, true,
            "A loaded rod can break: eye protection on, out of the cord's line, the tip at 90 degrees or less to the butt."));
        AddRule(boxes, texts, textLeft, foot + 9.3);
        texts.Add(new SheetText(left + ScaleCard.PatternWidthMm, foot + 12, 1, 2.5, false, $"DeflectScan scale card {letter}"));
        texts.Add(new SheetText(left + ScaleCard.PatternWidthMm, foot + 15.3, 1, 2.5, false, "5 × 7 squares of 36 mm"));
        return new CardSheet(width, height, boxes, texts);
    }

    /// <summary>The 100 mm check rule: its two end ticks' outer edges are 100 mm apart.</summary>
    private static void AddRule(List<SheetBox> boxes, List<SheetText> texts, double x, double y)
    {
        boxes.Add(new SheetBox(x, y, RuleMm, Hairline, true));
        for (int mm = 0; mm <= RuleMm; mm += 5)
        {
            double tick = mm % 50 == 0 ? 3.4 : mm % 10 == 0 ? 2.2 : 1.2;
            double at = mm == 0 ? 0 : mm == RuleMm ? RuleMm - Hairline : mm - (Hairline / 2);
            boxes.Add(new SheetBox(x + at, y, Hairline, tick, true));
        }

        texts.Add(new SheetText(x + 0.9, y + 6.1, 0, 2.5, false, "0"));
        texts.Add(new SheetText(x + (RuleMm / 2), y + 6.1, 0.5, 2.5, false, "50"));
        texts.Add(new SheetText(x + RuleMm - 0.9, y + 6.1, 1, 2.5, false, "this rule is 100 mm long"));
    }

    private static IEnumerable<SheetBox> Pattern(char letter, double left, double top)
    {
        for (int row = 0; row < ScaleCard.Rows; row++)
        {
            for (int column = 0; column < ScaleCard.Columns; column++)
            {
                if (ScaleCard.IsBlack(column, row))
                    yield return Square(left, top, column, row);
            }
        }

        for (int place = 0; place < ScaleCard.MarkersPerCard; place++)
        {
            Vec2 corner = ScaleCard.MarkerCornersMm(place)[0];
            yield return new SheetBox(left + corner.X, top + corner.Y, ScaleCard.MarkerMm, ScaleCard.MarkerMm, true);
            foreach (SheetBox white in MarkerBits.WhiteRuns(ScaleCard.MarkerId(letter, place)))
                yield return white with { X = white.X + left + corner.X, Y = white.Y + top + corner.Y };
        }
    }

    private static SheetBox Square(double left, double top, int column, int row) =>
        new(left + (column * ScaleCard.SquareMm), top + (row * ScaleCard.SquareMm), ScaleCard.SquareMm, ScaleCard.SquareMm, true);
}
