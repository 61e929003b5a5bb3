using SkiaSharp;

namespace DeflectScan.Reporting.Drawing;

/// <summary>A picture of a report, as a JPEG file's bytes.</summary>
public sealed record ReportPicture(byte[] Jpeg, int WidthPx, int HeightPx)
{
    private const int Quality = 88;

    public static ReportPicture OfPng(byte[] png)
    {
        using SKBitmap bitmap = SKBitmap.Decode(png);
        using SKData data = bitmap.Encode(SKEncodedImageFormat.Jpeg, Quality);
        return new ReportPicture(data.ToArray(), bitmap.Width, bitmap.Height);
    }
}
