using DeflectScan.Geometry;

namespace DeflectScan.Accuracy.Degrade;

/// <summary>How a changed photo's pixels follow from the old ones: cropped, then scaled, then turned by quarter turns clockwise.</summary>
/// <param name="Left">Columns cut off on the left.</param>
/// <param name="Top">Rows cut off at the top.</param>
/// <param name="CutWidth">Width that is left, before scaling.</param>
/// <param name="CutHeight">Height that is left, before scaling.</param>
/// <param name="Scale">Size of the result over the cut.</param>
/// <param name="QuarterTurns">0 to 3, clockwise.</param>
public sealed record PixelMap(int Left, int Top, int CutWidth, int CutHeight, double Scale, int QuarterTurns)
{
    private int ScaledWidth => (int)Math.Round(CutWidth * Scale);

    private int ScaledHeight => (int)Math.Round(CutHeight * Scale);

    public int Width => QuarterTurns % 2 == 0 ? ScaledWidth : ScaledHeight;

    public int Height => QuarterTurns % 2 == 0 ? ScaledHeight : ScaledWidth;

    public static PixelMap Whole(int width, int height) => new(0, 0, width, height, 1, 0);

    /// <summary>Old px to new px. Pixel centres are whole numbers, so scaling is about the corner at (-0.5, -0.5).</summary>
    public Vec2 Map(Vec2 px)
    {
        double kx = ScaledWidth / (double)CutWidth;
        double ky = ScaledHeight / (double)CutHeight;
        Vec2 p = new(((px.X - Left + 0.5) * kx) - 0.5, ((px.Y - Top + 0.5) * ky) - 0.5);
        return QuarterTurns switch
        {
            1 => new Vec2(ScaledHeight - 1 - p.Y, p.X),
            2 => new Vec2(ScaledWidth - 1 - p.X, ScaledHeight - 1 - p.Y),
            3 => new Vec2(p.Y, ScaledWidth - 1 - p.X),
            _ => p,
        };
    }

    public bool IsInside(Vec2 px) => px.X >= 0 && px.Y >= 0 && px.X <= Width - 1 && px.Y <= Height - 1;
}
