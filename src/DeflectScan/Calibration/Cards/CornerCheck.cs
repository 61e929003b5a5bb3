using DeflectScan.Geometry;
using OpenCvSharp;

namespace DeflectScan.Calibration.Cards;

/// <summary>Measures one inner corner where a map expects it, and takes it only if the black and the white squares lie round it as printed.</summary>
internal static class CornerCheck
{
    private const double LeastContrast = 4;

    /// <summary>The corner in the photo's px, or null when it is hidden, blurred away or not a corner of the card.</summary>
    /// <param name="cutOut">Part of the grey photo.</param>
    /// <param name="offset">The cut-out's top-left in the photo, px.</param>
    /// <param name="map">Print frame to the photo's px.</param>
    /// <param name="index">Which corner.</param>
    /// <param name="squarePx">Side of a square, px.</param>
    /// <param name="farthestPx">How far from its expected place it may be.</param>
    /// <param name="options">The search's options.</param>
    public static Vec2? Measure(Mat cutOut, Vec2 offset, PlaneMap map, int index, double squarePx, double farthestPx, CardOptions options)
    {
        Vec2 mm = ScaleCard.InnerCornerMm(index);
        Vec2 expected = map.Map(mm) - offset;
        double radius = options.WindowSquares * squarePx;
        if (SaddleFit.Near(cutOut, expected, radius, farthestPx) is not { } saddle)
            return null;
        if (saddle.Asymmetry > options.LargestAsymmetry || saddle.Contrast < LeastContrast)
            return null;
        return ColoursAsPrinted(cutOut, map, mm, saddle, offset) ? saddle.Px + offset : null;
    }

    /// <summary>Compares the two black quadrants with the two white ones just beside the corner, where no marker reaches.</summary>
    private static bool ColoursAsPrinted(Mat cutOut, PlaneMap map, Vec2 mm, Saddle saddle, Vec2 offset)
    {
        const double aside = 0.11 * ScaleCard.SquareMm;
        int column = (int)Math.Round(mm.X / ScaleCard.SquareMm);
        int row = (int)Math.Round(mm.Y / ScaleCard.SquareMm);
        bool topLeftBlack = ScaleCard.IsBlack(column - 1, row - 1);
        Vec2 shift = saddle.Px + offset - map.Map(mm);
        double same = Grey(-1, -1) + Grey(1, 1);
        double other = Grey(1, -1) + Grey(-1, 1);
        double whiter = (topLeftBlack ? other - same : same - other) / 2;
        return whiter > 0.5 * saddle.Contrast;

        double Grey(int dx, int dy)
        {
            Vec2 p = map.Map(mm + (new Vec2(dx, dy) * aside)) + shift - offset;
            int x = Math.Clamp((int)Math.Floor(p.X), 0, cutOut.Width - 2);
            int y = Math.Clamp((int)Math.Floor(p.Y), 0, cutOut.Height - 2);
            double fx = Math.Clamp(p.X - x, 0, 1);
            double fy = Math.Clamp(p.Y - y, 0, 1);
            double top = (cutOut.At<byte>(y, x) * (1 - fx)) + (cutOut.At<byte>(y, x + 1) * fx);
            double bottom = (cutOut.At<byte>(y + 1, x) * (1 - fx)) + (cutOut.At<byte>(y + 1, x + 1) * fx);
            return (top * (1 - fy)) + (bottom * fy);
        }
    }
}
