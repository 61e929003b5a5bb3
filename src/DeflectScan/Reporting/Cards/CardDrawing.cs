using System.Globalization;
using System.Text;
using DeflectScan.Reporting.Fonts;
using PdfSharp.Drawing;
using PdfSharp.Pdf;
using SixLabors.ImageSharp;
using SixLabors.ImageSharp.Metadata;
using SixLabors.ImageSharp.PixelFormats;
using SkiaSharp;

namespace DeflectScan.Reporting.Cards;

/// <summary>Writes scale cards at 1:1 for printing.</summary>
public static class CardDrawing
{
    private const double PngDotsPerInch = 300;

    /// <summary>A vector PDF of one page; viewers are asked to print it unscaled.</summary>
    /// <param name="letter">A to E.</param>
    /// <param name="paper">Paper that it is printed on.</param>
    /// <param name="output">Left open.</param>
    public static void WritePdf(char letter, Paper paper, Stream output)
    {
        CardSheet sheet = CardSheet.For(letter, paper);
        PdfFonts.Register();
        using PdfDocument document = new();
        document.Info.Title = $"Scale card {letter}";
        document.Info.Creator = "DeflectScan";
        document.ViewerPreferences.Elements.SetName("/PrintScaling", "/None");
        PdfPage page = document.AddPage();
        page.Width = XUnit.FromMillimeter(sheet.WidthMm);
        page.Height = XUnit.FromMillimeter(sheet.HeightMm);
        using (XGraphics g = XGraphics.FromPdfPage(page, XGraphicsUnit.Millimeter))
        {
            foreach (SheetBox b in sheet.Boxes)
                g.DrawRectangle(b.Black ? XBrushes.Black : XBrushes.White, b.X, b.Y, b.Width, b.Height);
            foreach (SheetText t in sheet.Texts)
            {
                XFont font = new(EmbeddedFont.Family, t.SizeMm, t.Bold ? XFontStyleEx.Bold : XFontStyleEx.Regular);
                double width = g.MeasureString(t.Text, font).Width;
                g.DrawString(t.Text, font, XBrushes.Black, t.X - (t.Anchor * width), t.Y, XStringFormats.BaseLineLeft);
            }
        }

        document.Save(output, closeStream: false);
    }

    /// <summary>An SVG whose user unit is one mm.</summary>
    /// <param name="letter">A to E.</param>
    /// <param name="paper">Paper that it is printed on.</param>
    /// <param name="output">Left open.</param>
    public static void WriteSvg(char letter, Paper paper, Stream output)
    {
        CardSheet sheet = CardSheet.For(letter, paper);
        StringBuilder svg = new();
        svg.Append(CultureInfo.InvariantCulture, $"<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{sheet.WidthMm:0.###}mm\" height=\"{sheet.HeightMm:0.###}mm\" ");
        svg.Append(CultureInfo.InvariantCulture, $"viewBox=\"0 0 {sheet.WidthMm:0.###} {sheet.HeightMm:0.###}\">\n<title>Scale card {letter}</title>\n");
        svg.Append("<rect width=\"100%\" height=\"100%\" fill=\"#fff\"/>\n");
        foreach (SheetBox b in sheet.Boxes)
        {
            svg.Append(
                CultureInfo.InvariantCulture,
                $"<rect x=\"{b.X:0.###}\" y=\"{b.Y:0.###}\" width=\"{b.Width:0.###}\" height=\"{b.Height:0.###}\" fill=\"{(b.Black ? "#000" : "#fff")}\"/>\n");
        }

        foreach (SheetText t in sheet.Texts)
        {
            string anchor = t.Anchor == 0 ? "start" : t.Anchor == 1 ? "end" : "middle";
            svg.Append(CultureInfo.InvariantCulture, $"<text x=\"{t.X:0.###}\" y=\"{t.Y:0.###}\" text-anchor=\"{anchor}\" font-family=\"{EmbeddedFont.Family}, sans-serif\" ");
            svg.Append(CultureInfo.InvariantCulture, $"font-size=\"{t.SizeMm:0.###}\" font-weight=\"{(t.Bold ? 700 : 400)}\">{System.Net.WebUtility.HtmlEncode(t.Text)}</text>\n");
        }

        svg.Append("</svg>\n");
        output.Write(Encoding.UTF8.GetBytes(svg.ToString()));
    }

    /// <summary>A grey PNG of 300 dots per inch that states its resolution.</summary>
    /// <param name="letter">A to E.</param>
    /// <param name="paper">Paper that it is printed on.</param>
    /// <param name="output">Left open.</param>
    public static void WritePng(char letter, Paper paper, Stream output)
    {
        CardSheet sheet = CardSheet.For(letter, paper);
        const double dotsPerMm = PngDotsPerInch / 25.4;
        int width = (int)Math.Round(sheet.WidthMm * dotsPerMm);
        int height = (int)Math.Round(sheet.HeightMm * dotsPerMm);
        using SKBitmap bitmap = new(new SKImageInfo(width, height, SKColorType.Gray8, SKAlphaType.Opaque));
        using (SKCanvas canvas = new(bitmap))
            Draw(canvas, sheet, (float)dotsPerMm);
        using Image<L8> image = Image.LoadPixelData<L8>(bitmap.GetPixelSpan(), width, height);
        image.Metadata.ResolutionUnits = PixelResolutionUnit.PixelsPerInch;
        image.Metadata.HorizontalResolution = image.Metadata.VerticalResolution = PngDotsPerInch;
        image.SaveAsPng(output);
    }

    private static void Draw(SKCanvas canvas, CardSheet sheet, float dotsPerMm)
    {
        canvas.Clear(SKColors.White);
        canvas.Scale(dotsPerMm);
        using SKTypeface regular = SKTypeface.FromStream(new MemoryStream(EmbeddedFont.Regular, writable: false));
        using SKTypeface bold = SKTypeface.FromStream(new MemoryStream(EmbeddedFont.Bold, writable: false));
        using SKPaint black = new() { Color = SKColors.Black, IsAntialias = true };
        using SKPaint white = new() { Color = SKColors.White, IsAntialias = true };
        foreach (SheetBox b in sheet.Boxes)
            canvas.DrawRect((float)b.X, (float)b.Y, (float)b.Width, (float)b.Height, b.Black ? black : white);
        foreach (SheetText t in sheet.Texts)
        {
            using SKFont font = new(t.Bold ? bold : regular, (float)t.SizeMm) { Subpixel = true };
            float width = font.MeasureText(t.Text);
            canvas.DrawText(t.Text, (float)(t.X - (t.Anchor * width)), (float)t.Y, SKTextAlign.Left, font, black);
        }
    }
}
