using DeflectScan.Geometry;

namespace DeflectScan.Reporting.Boards;

/// <summary>A role's colour on a light ground: the page's light theme.</summary>
internal enum Tone
{
    Ink,
    Quiet,
    Edge,
    Ground,
    Panel,
    Blank,
    Line,
    Bow,
    Worst,
    WorstGround,
    Target,
    Faint,
    Good,
    Look,
    Bad,
}

internal enum Anchor
{
    Left,
    Middle,
    Right,
}

/// <summary>One thing drawn. Lengths in the sketch's units, y down.</summary>
internal abstract record Mark;

internal sealed record StrokeMark(IReadOnlyList<Vec2> Points, Tone Tone, double Width, bool IsDashed) : Mark;

internal sealed record BoxMark(double X, double Y, double Width, double Height, Tone Tone) : Mark;

internal sealed record DotMark(double X, double Y, double Radius, Tone Tone, double Width, Tone? Fill) : Mark;

internal sealed record WordsMark(string Text, double X, double Y, double Size, Tone Tone, bool IsBold, Anchor Anchor) : Mark;

/// <summary>A drawing that does not know yet whether it becomes a web page's, a printed or a screen's picture.</summary>
/// <param name="width">In its own units.</param>
/// <param name="height">In its own units.</param>
internal sealed class Sketch(double width, double height)
{
    private readonly List<Mark> _marks = [];

    public double Width => width;

    public double Height => height;

    public IReadOnlyList<Mark> Marks => _marks;

    public void Stroke(IReadOnlyList<Vec2> points, Tone tone, double lineWidth, bool isDashed = false) => _marks.Add(new StrokeMark(points, tone, lineWidth, isDashed));

    public void Line(double x1, double y1, double x2, double y2, Tone tone, double lineWidth, bool isDashed = false) => Stroke([new(x1, y1), new(x2, y2)], tone, lineWidth, isDashed);

    public void Box(double x, double y, double boxWidth, double boxHeight, Tone tone) => _marks.Add(new BoxMark(x, y, boxWidth, boxHeight, tone));

    public void Dot(double x, double y, double radius, Tone tone, double lineWidth, Tone? fill = null) => _marks.Add(new DotMark(x, y, radius, tone, lineWidth, fill));

    /// <summary>Words with their baseline at y.</summary>
    public void Words(string text, double x, double y, double size, Tone tone = Tone.Ink, bool isBold = false, Anchor anchor = Anchor.Left) =>
        _marks.Add(new WordsMark(text, x, y, size, tone, isBold, anchor));

    /// <summary>The hex colour of a role, the same as in the page's style sheet.</summary>
    public static string Hex(Tone tone) => tone switch
    {
        Tone.Ink => "#101820",
        Tone.Quiet => "#4a5763",
        Tone.Edge => "#c3ccd5",
        Tone.Ground => "#ffffff",
        Tone.Panel => "#f4f6f8",
        Tone.Blank => "#52606d",
        Tone.Line => "#8a6300",
        Tone.Bow => "#2456c8",
        Tone.Worst => "#8e0f4e",
        Tone.WorstGround => "#fbe9f1",
        Tone.Target => "#0b7a63",
        Tone.Faint => "#8593a1",
        Tone.Good => "#0b6b4f",
        Tone.Look => "#8a4b00",
        _ => "#a3162b",
    };
}
