using DeflectScan.Geometry;
using DeflectScan.Reporting.Drawing;
using DeflectScan.Teaching;

namespace DeflectScan.Reporting.Boards;

/// <summary>The board as one drawing or, where it has too many rods for its height, as several: a row a rod, what stands out below.</summary>
internal sealed class BoardSheet
{
    /// <summary>Width of the drawing in its units: a projector's pixels.</summary>
    public const double Width = 1280;

    private const double Margin = 28;
    private const double StripLeft = 208;
    private const double StripRight = 906;
    private const double HeadHeight = 78;
    private const double RulerHeight = 26;
    private const double NoteHeight = 24;
    private const double WordSize = 14.5;
    private const double WordHeight = 19;
    private const double LeastRow = 30;
    private const double MostRow = 74;
    private static readonly double[] ColumnRights = [1010, 1066, 1150, 1202, 1252];

    private readonly ClassReport _report;
    private readonly LengthUnit _unit;
    private readonly IReadOnlyList<string> _words;

    private BoardSheet(ClassReport report, LengthUnit unit)
    {
        (_report, _unit) = (report, unit);
        _words = [.. report.StandsOut.SelectMany(s => Lines(UnitsInSentences.Of(s, unit)))];
    }

    /// <summary>One drawing, at least so high; higher where its rods ask for it.</summary>
    public static Sketch One(ClassReport report, LengthUnit unit, double height)
    {
        BoardSheet board = new(report, unit);
        double row = Math.Clamp((height - board.Around) / board.Rows, LeastRow, MostRow);
        return board.Page(report.Rods, Math.Max(height, board.Around + (row * board.Rows)), row, isFirst: true);
    }

    /// <summary>As many pages of one height as it takes; what stands out is on the first.</summary>
    public static IReadOnlyList<Sketch> Pages(ClassReport report, LengthUnit unit, double height)
    {
        BoardSheet board = new(report, unit);
        double row = Math.Clamp((height - board.Around) / board.Rows, LeastRow * 1.3, MostRow);
        List<Sketch> pages = [];
        ClassRod[] left = [.. report.Rods];
        do
        {
            double around = pages.Count == 0 ? board.Around : board.Around - (board._words.Count * WordHeight);
            int reference = report.Reference?.Strip is null ? 0 : 1;
            int fits = Math.Max(1, (int)(((height - around) / row) + 1e-6) - reference);
            pages.Add(board.Page([.. left.Take(fits)], height, row, isFirst: pages.Count == 0));
            left = [.. left.Skip(fits)];
        }
        while (left.Length > 0);
        return pages;
    }

    private int Rows => Math.Max(1, _report.Rods.Count) + (_report.Reference?.Strip is null ? 0 : 1);

    /// <summary>What is not rows.</summary>
    private double Around => HeadHeight + RulerHeight + NoteHeight + 14 + (_words.Count * WordHeight);

    private Sketch Page(IReadOnlyList<ClassRod> rods, double height, double row, bool isFirst)
    {
        Sketch sketch = new(Width, height);
        StripScale scale = StripScale.Of(_report, StripRight - StripLeft, row - 5);
        Head(sketch);
        double y = HeadHeight;
        if (_report.Reference is { Strip: not null } reference)
            y = Row(sketch, reference, scale, y, row, isShaded: false);
        for (int i = 0; i < rods.Count; i++)
            y = Row(sketch, rods[i], scale, y, row, isShaded: i % 2 == 0);
        StripDrawing.Ruler(sketch, scale, StripRight, y + 3, _unit);
        y += RulerHeight + NoteHeight - 6;
        sketch.Words($"{scale.Words}{Legend()}", Margin, y, 11.5, Tone.Quiet);
        y += 12;
        foreach (string line in isFirst ? _words : [])
            sketch.Words(line, Margin, y += WordHeight, WordSize, Tone.Ink);
        return sketch;
    }

    private void Head(Sketch sketch)
    {
        sketch.Words(Fit(_report.Options.Title, 28, 700, isBold: true), Margin, 40, 28, Tone.Ink, isBold: true);
        string target = _report.Options switch
        {
            { TargetIsBest: true } => "Target: the best that so many guides can do on each blank",
            { TargetBowMm: { } mm } => $"Target: bow {UnitsInSentences.Bare(mm, _unit)} {UnitsInSentences.Name(_unit)}",
            _ => "",
        };
        sketch.Words(target, Width - Margin, 40, 18, Tone.Target, isBold: true, anchor: Anchor.Right);
        sketch.Words("tip", StripRight, HeadHeight - 8, 12, Tone.Quiet, anchor: Anchor.Right);
        sketch.Words("reel", StripLeft, HeadHeight - 8, 12, Tone.Quiet);
        for (int i = 0; i < ColumnRights.Length; i++)
            sketch.Words(BoardColumns.Heads[i].Head, ColumnRights[i], HeadHeight - 8, 12, Tone.Quiet, anchor: Anchor.Right);
    }

    private double Row(Sketch sketch, ClassRod rod, StripScale scale, double top, double height, bool isShaded)
    {
        if (isShaded)
            sketch.Box(Margin - 8, top, Width - (2 * Margin) + 16, height, Tone.Panel);
        double baseline = top + 3 + scale.AboveUnits;
        double middle = top + (height / 2) + 5;
        string? standing = BoardColumns.Standing(rod);
        double size = Math.Min(17, height * 0.48);
        double nameY = standing is null || height < 34 ? middle : middle - 8;
        double room = StripLeft - Margin - 12;
        sketch.Words(Fit(rod.Name, size, standing is not null && height < 34 ? room - 80 : room, isBold: true), Margin, nameY, size, Tone.Ink, isBold: true);
        if (standing is not null)
            sketch.Words(standing, height < 34 ? StripLeft - 10 : Margin, height < 34 ? middle : nameY + 16, 12.5, rod.Standing == RodStanding.LookFirst ? Tone.Look : Tone.Bad, isBold: true, anchor: height < 34 ? Anchor.Right : Anchor.Left);
        if (rod.Strip is { } strip)
        {
            if (_report.Reference?.Strip is { } reference && rod.Photo != _report.Reference.Photo)
                StripDrawing.DrawFaint(sketch, reference, scale, StripRight, baseline);
            StripDrawing.Draw(sketch, strip, scale, StripRight, baseline, rod.TargetMm);
            Figures(sketch, rod, middle, size);
        }
        else if (rod.Why is { } why)
        {
            Why(sketch, UnitsInSentences.Of(why, _unit), middle, height);
        }

        return top + height;
    }

    private void Figures(Sketch sketch, ClassRod rod, double y, double size)
    {
        IReadOnlyList<string> texts = BoardColumns.Of(rod, _unit);
        for (int i = 0; i < texts.Count; i++)
        {
            Tone tone = rod.Standing == RodStanding.LookFirst ? Tone.Quiet : i == 0 ? rod.KeepsTarget switch { true => Tone.Good, false => Tone.Worst, _ => Tone.Ink } : Tone.Ink;
            sketch.Words(texts[i], ColumnRights[i], y, Math.Min(16, size), tone, isBold: i == 0, anchor: Anchor.Right);
        }
    }

    private static void Why(Sketch sketch, string why, double middle, double height)
    {
        const double Size = 13;
        IReadOnlyList<string> lines = Typefaces.Wrap(why, (float)Size, (float)(Width - Margin - StripLeft));
        int most = Math.Max(1, (int)((height - 4) / 17));
        double y = middle - (17 * (Math.Min(most, lines.Count) - 1) / 2.0);
        for (int i = 0; i < Math.Min(most, lines.Count); i++, y += 17)
            sketch.Words(i == most - 1 && lines.Count > most ? $"{lines[i]} …" : lines[i], StripLeft, y, Size, Tone.Bad);
    }

    private string Legend() =>
        $" Figures in {UnitsInSentences.Name(_unit)}.{(_report.Rods.Any(r => r.TargetMm is not null) ? " Dashed green: the target." : "")}{(_report.Reference?.Strip is null ? "" : " Grey dashes: the instructor's rod.")}{(_report.Rods.Any(r => r.Standing == RodStanding.LookFirst) ? " Grey figures: look first." : "")}";

    private static IReadOnlyList<string> Lines(string sentence)
    {
        IReadOnlyList<string> lines = Typefaces.Wrap(sentence, (float)WordSize, (float)(Width - (2 * Margin) - 16));
        return [.. lines.Select((l, i) => (i == 0 ? "• " : "   ") + l)];
    }

    private static string Fit(string text, double size, double width, bool isBold)
    {
        if (Typefaces.Width(text, (float)size, isBold) <= width)
            return text;
        int keep = text.Length;
        while (keep > 0 && Typefaces.Width(text[..keep] + "…", (float)size, isBold) > width)
            keep--;
        if (keep > 0 && char.IsHighSurrogate(text[keep - 1]))
            keep--;
        return text[..keep] + "…";
    }
}
