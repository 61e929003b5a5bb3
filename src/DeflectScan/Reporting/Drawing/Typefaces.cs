using DeflectScan.Reporting.Fonts;
using SkiaSharp;

namespace DeflectScan.Reporting.Drawing;

/// <summary>The embedded typeface as Skia uses it: loaded once, shared, never the machine's own fonts.</summary>
internal static class Typefaces
{
    private static readonly Lazy<SKTypeface> Regular = new(() => Load(EmbeddedFont.Regular));
    private static readonly Lazy<SKTypeface> Bold = new(() => Load(EmbeddedFont.Bold));

    /// <summary>A font of <paramref name="sizePx"/>, unhinted so that it looks the same at every size and place. Dispose it.</summary>
    public static SKFont Font(float sizePx, bool bold = false) => new(bold ? Bold.Value : Regular.Value, sizePx)
    {
        Edging = SKFontEdging.Antialias,
        Hinting = SKFontHinting.None,
        Subpixel = true,
        LinearMetrics = true,
    };

    /// <summary>Width of a text set in <paramref name="size"/>, in the unit of the size.</summary>
    public static float Width(string text, float size, bool bold = false)
    {
        using SKFont font = Font(size, bold);
        return font.MeasureText(text);
    }

    /// <summary>Splits a text into lines no wider than <paramref name="width"/>; a single longer word stays whole.</summary>
    public static IReadOnlyList<string> Wrap(string text, float size, float width, bool bold = false)
    {
        List<string> lines = [];
        string line = "";
        foreach (string word in text.Split(' ', StringSplitOptions.RemoveEmptyEntries))
        {
            string longer = line.Length == 0 ? word : $"{line} {word}";
            if (line.Length > 0 && Width(longer, size, bold) > width)
            {
                lines.Add(line);
                longer = word;
            }

            line = longer;
        }

        if (line.Length > 0)
            lines.Add(line);
        return lines;
    }

    private static SKTypeface Load(byte[] file)
    {
        using SKData data = SKData.CreateCopy(file);
        return SKTypeface.FromData(data) ?? throw new InvalidOperationException("The embedded font cannot be read: build the program again.");
    }
}
