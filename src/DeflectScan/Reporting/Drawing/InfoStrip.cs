using DeflectScan.Reporting.Cards;
using SkiaSharp;

namespace DeflectScan.Reporting.Drawing;

/// <summary>
/// A strip of words above or below the picture, laid out in units of a thousandth of the picture's width before its pixels are known.
/// </summary>
internal sealed class InfoStrip
{
    private const float Margin = 14;
    private const float Leading = 1.3f;
    private readonly List<Action<Brush, float>> _drawings = [];
    private readonly List<string> _words = [];

    /// <summary>Height in units, margins included; 0 while nothing was added.</summary>
    public float Height { get; private set; }

    /// <summary>Lines of words so far.</summary>
    public int Lines => _words.Count;

    /// <summary>The words, line by line.</summary>
    public IReadOnlyList<string> Words => _words;

    /// <summary>How many lines a text takes.</summary>
    public static int LinesOf(string text, float size, bool bold = false, StatusIcon? icon = null) => Wrap(text, size, bold, Indent(size, icon)).Count;

    /// <summary>Words over the whole width, wrapped, cut with an ellipsis after <paramref name="mostLines"/>; an icon, where given, stands before the first line and indents the others.</summary>
    public void Add(string text, float size, SKColor colour, bool bold = false, StatusIcon? icon = null, float after = 3, int mostLines = int.MaxValue)
    {
        float indent = Indent(size, icon);
        bool first = true;
        IReadOnlyList<string> lines = Wrap(text, size, bold, indent);
        for (int i = 0; i < Math.Min(lines.Count, mostLines); i++)
        {
            string line = i == mostLines - 1 && lines.Count > mostLines ? Cut(lines[i], size, bold, indent) : lines[i];
            _words.Add(line);
            float baseline = Start() + (size * (Leading + Brush.CapHeight) / 2);
            bool drawIcon = first && icon is not null;
            _drawings.Add((brush, top) =>
            {
                if (drawIcon)
                    icon!.Draw(brush, At(brush, top, Margin + (size * 0.55f), baseline - (size * Brush.CapHeight / 2)), size * 1.02f);
                brush.Text(line, At(brush, top, Margin + indent, baseline), size, colour, bold);
            });
            Height = Start() + (size * Leading);
            first = false;
        }

        Height += after;
    }

    /// <summary>Keys side by side, wrapped: each a sample drawn in a box of <paramref name="sampleWidth"/> and its words.</summary>
    public void AddKeys(IReadOnlyList<LegendKey> keys, float size, float sampleWidth)
    {
        float x = Margin;
        float row = Start();
        foreach (LegendKey key in keys)
        {
            float width = sampleWidth + (size * 0.45f) + Typefaces.Width(key.Words, size);
            if (x > Margin && x + width > 1000 - Margin)
            {
                x = Margin;
                row += size * 1.5f;
            }

            (float keyX, float middle) = (x, row + (size * 0.75f));
            _drawings.Add((brush, top) =>
            {
                key.Sample(brush, At(brush, top, keyX, middle), At(brush, top, keyX + sampleWidth, middle));
                brush.Text(key.Words, At(brush, top, keyX + sampleWidth + (size * 0.45f), middle + (size * Brush.CapHeight / 2)), size, Palette.Paper);
            });
            x += width + (size * 1.1f);
        }

        Height = row + (size * 1.5f);
    }

    /// <summary>Draws the strip on its own dark ground from <paramref name="topPx"/> down.</summary>
    public void Draw(Brush brush, float topPx)
    {
        using SKPaint ground = new() { Color = Palette.Panel };
        brush.Canvas.DrawRect(new SKRect(0, topPx, 1000 * brush.Unit, topPx + (HeightWithMargin * brush.Unit)), ground);
        foreach (Action<Brush, float> drawing in _drawings)
            drawing(brush, topPx);
    }

    /// <summary>Height in units with the margin below.</summary>
    public float HeightWithMargin => Height == 0 ? 0 : Height + (Margin * 0.6f);

    private static float Indent(float size, StatusIcon? icon) => icon is null ? 0 : size * 1.45f;

    private static IReadOnlyList<string> Wrap(string text, float size, bool bold, float indent) => Typefaces.Wrap(text, size, 1000 - (2 * Margin) - indent, bold);

    /// <summary>A line that has no room to go on, with an ellipsis that still fits.</summary>
    private static string Cut(string line, float size, bool bold, float indent)
    {
        string cut = line;
        while (cut.Contains(' ', StringComparison.Ordinal) && Wrap($"{cut}\u00a0…", size, bold, indent).Count > 1)
            cut = cut[..cut.LastIndexOf(' ')];
        return $"{cut.TrimEnd('.', ',', ':', ' ')} …";
    }

    private float Start() => Height == 0 ? Margin * 0.6f : Height;

    private static SKPoint At(Brush brush, float top, float x, float y) => new(x * brush.Unit, top + (y * brush.Unit));
}

/// <summary>One key of a legend: its words and how its sample is drawn between two points on one height.</summary>
internal sealed record LegendKey(string Words, Action<Brush, SKPoint, SKPoint> Sample);
