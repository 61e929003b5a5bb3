using DeflectScan.Reporting.Cards;
using DeflectScan.Reporting.Drawing;
using SkiaSharp;

namespace DeflectScan.Reporting.Plots;

/// <summary>Kinds of file that a plot is drawn as.</summary>
public enum PlotFormat
{
    Png,
    Svg,
    Pdf,
}

/// <summary>One drawing as a PNG, SVG or PDF file of the same look; the same drawing gives the same bytes.</summary>
internal static class PlotPage
{
    /// <summary>Px of the PNG for one unit of the drawing.</summary>
    private const float PixelsAUnit = 2;

    /// <summary>Draws a page.</summary>
    /// <param name="format">Kind of file.</param>
    /// <param name="width">In units: px at 1:1 in SVG, points of 1/72 in in PDF.</param>
    /// <param name="height">The same.</param>
    /// <param name="draw">Draws on a canvas of that size in units.</param>
    public static byte[] Draw(PlotFormat format, int width, int height, Action<SKCanvas> draw) => format switch
    {
        PlotFormat.Png => Png(width, height, draw),
        PlotFormat.Svg => Svg(width, height, draw),
        _ => Pdf(width, height, draw),
    };

    private static byte[] Png(int width, int height, Action<SKCanvas> draw)
    {
        using SKSurface surface = SKSurface.Create(new SKImageInfo((int)(width * PixelsAUnit), (int)(height * PixelsAUnit), SKColorType.Bgra8888, SKAlphaType.Opaque));
        surface.Canvas.Clear(Palette.Paper);
        surface.Canvas.Scale(PixelsAUnit);
        draw(surface.Canvas);
        using SKImage image = surface.Snapshot();
        using SKData data = image.Encode(SKEncodedImageFormat.Png, 100);
        return data.ToArray();
    }

    private static byte[] Svg(int width, int height, Action<SKCanvas> draw)
    {
        using MemoryStream file = new();
        using (SKManagedWStream stream = new(file))
        using (SKCanvas canvas = SKSvgCanvas.Create(new SKRect(0, 0, width, height), stream))
        {
            using SKPaint paper = new() { Color = Palette.Paper };
            canvas.DrawRect(new SKRect(0, 0, width, height), paper);
            draw(canvas);
        }

        return file.ToArray();
    }

    private static byte[] Pdf(int width, int height, Action<SKCanvas> draw)
    {
        using MemoryStream file = new();
        using (SKDocument document = SKDocument.CreatePdf(file, new SKDocumentPdfMetadata { Creator = "deflectscan", Title = "deflectscan" }))
        {
            draw(document.BeginPage(width, height));
            document.EndPage();
            document.Close();
        }

        return file.ToArray();
    }
}

/// <summary>Words as outlines: a drawing looks the same wherever it is opened, with no font there.</summary>
internal static class OutlinedText
{
    /// <summary>Draws words with their baseline at y; across: 0 starts at x, 0.5 is centred on it, 1 ends at it.</summary>
    public static void Words(this SKCanvas canvas, string text, float x, float y, float size, SKColor colour, float across = 0, bool bold = false)
    {
        using SKFont font = Typefaces.Font(size, bold);
        using SKPath path = font.GetTextPath(text, new SKPoint(x - (font.MeasureText(text) * across), y));
        using SKPaint paint = new() { IsAntialias = true, Color = colour };
        canvas.DrawPath(path, paint);
    }
}
