using OpenCvSharp;
using SkiaSharp;

namespace DeflectScan.Reporting.Drawing;

/// <summary>A picture being made: pixels that OpenCV fills and Skia draws on, then a PNG file's bytes. Owns its memory: dispose it.</summary>
internal sealed class Picture : IDisposable
{
    private readonly Mat _bgra;
    private readonly SKSurface _surface;

    public Picture(int widthPx, int heightPx)
    {
        _bgra = new Mat(heightPx, widthPx, MatType.CV_8UC4, new Scalar(Palette.Panel.Blue, Palette.Panel.Green, Palette.Panel.Red, 255));
        SKImageInfo info = new(widthPx, heightPx, SKColorType.Bgra8888, SKAlphaType.Opaque);
        _surface = SKSurface.Create(info, _bgra.Data, (int)_bgra.Step());
        Brush = new Brush(_surface.Canvas, widthPx / 1000f);
    }

    public int WidthPx => _bgra.Cols;

    public int HeightPx => _bgra.Rows;

    public Brush Brush { get; }

    /// <summary>Lays a BGR picture in at (x, y) at its own size. Call it before drawing.</summary>
    public void Lay(Mat bgr, int x, int y)
    {
        using Mat part = new(_bgra, new Rect(x, y, bgr.Cols, bgr.Rows));
        Cv2.CvtColor(bgr, part, ColorConversionCodes.BGR2BGRA);
    }

    /// <summary>The picture as PNG: every pixel kept, fast rather than small. The same picture gives the same bytes.</summary>
    public byte[] ToPng()
    {
        _surface.Flush();
        using SKPixmap pixels = new(new SKImageInfo(WidthPx, HeightPx, SKColorType.Bgra8888, SKAlphaType.Opaque), _bgra.Data, (int)_bgra.Step());
        using SKData data = pixels.Encode(new SKPngEncoderOptions(SKPngEncoderFilterFlags.Up, 1))
            ?? throw new InvalidOperationException("The picture could not be written as PNG.");
        return data.ToArray();
    }

    public void Dispose()
    {
        _surface.Dispose();
        _bgra.Dispose();
    }
}
