using DeflectScan.Geometry;
using OpenCvSharp;

namespace DeflectScan.Imaging;

/// <summary>Bicubic samples (Keys 1981, a = -0.5) of a photo as luma and two colour differences.</summary>
internal sealed unsafe class PhotoSampler(Mat bgr)
{
    private readonly byte* _data = bgr.DataPointer;
    private readonly long _stride = bgr.Step();

    public int Width { get; } = bgr.Width;

    public int Height { get; } = bgr.Height;

    public bool Contains(Vec2 px, double margin) =>
        px.X >= margin && px.Y >= margin && px.X < Width - 1 - margin && px.Y < Height - 1 - margin;

    /// <summary>Luma, red - green, blue - yellow at a point at least two px inside the photo.</summary>
    public (double Luma, double RedGreen, double BlueYellow) At(Vec2 px)
    {
        int x = (int)Math.Floor(px.X);
        int y = (int)Math.Floor(px.Y);
        Span<double> wx = stackalloc double[4];
        Span<double> wy = stackalloc double[4];
        CubicKernel.Weights(px.X - x, wx);
        CubicKernel.Weights(px.Y - y, wy);
        double b = 0;
        double g = 0;
        double r = 0;
        for (int j = 0; j < 4; j++)
        {
            byte* row = _data + ((y - 1 + j) * _stride) + (3 * (x - 1));
            b += wy[j] * ((wx[0] * row[0]) + (wx[1] * row[3]) + (wx[2] * row[6]) + (wx[3] * row[9]));
            g += wy[j] * ((wx[0] * row[1]) + (wx[1] * row[4]) + (wx[2] * row[7]) + (wx[3] * row[10]));
            r += wy[j] * ((wx[0] * row[2]) + (wx[1] * row[5]) + (wx[2] * row[8]) + (wx[3] * row[11]));
        }

        return (Luma.Sampled(b, g, r), r - g, b - (0.5 * (r + g)));
    }
}
