using DeflectScan.Calibration;
using DeflectScan.Calibration.Cards;
using DeflectScan.Geometry;
using DeflectScan.Photos;

namespace DeflectScan.Measuring.Prints;

/// <summary>
/// The mean edge between the black and white squares of all cards in a photo, finer than pixels: every pixel near an edge is put at its
/// distance from it (the slanted-edge method of ISO 12233, from memory).
/// </summary>
/// <param name="DistancesPx">Distance from the line between the squares' corners, px, positive on white; ascending.</param>
/// <param name="Levels">Mean grey level, 0 to 255 as coded, of the pixels about each distance.</param>
internal sealed record PrintEdge(IReadOnlyList<double> DistancesPx, IReadOnlyList<double> Levels)
{
    public const double BinPx = 0.25;
    private const double FarthestPx = 5;
    private const double NearestPx = 3; // less shows no level of white
    private const double MarkerPx = 2; // so far out of a marker its own edge shows
    private const double CornerShare = 0.25; // of an edge at either end, where other squares meet it
    private const double WhiteMarginShare = (ScaleCard.SquareMm - ScaleCard.MarkerMm) / 2 / ScaleCard.SquareMm;
    private const int FewestPixels = 40; // in a bin

    /// <summary>The edge of all inner squares of the cards; null where they are too small or too few pixels show them.</summary>
    public static PrintEdge? Of(UprightPhoto photo, RodPlane plane, IReadOnlyList<SolvedCard> cards)
    {
        double reach = Math.Min(FarthestPx, (cards.Min(c => c.SquarePx) * WhiteMarginShare) - MarkerPx);
        if (reach < NearestPx)
            return null;
        int half = (int)(reach / BinPx);
        double[] sums = new double[(2 * half) + 1];
        int[] counts = new int[sums.Length];
        foreach (SolvedCard card in cards)
        {
            Vec2 right = (card.PatternMm[1] - card.PatternMm[0]) / ScaleCard.Columns;
            Vec2 down = (card.PatternMm[3] - card.PatternMm[0]) / ScaleCard.Rows;
            for (int row = 0; row < ScaleCard.Rows; row++)
            {
                for (int column = 0; column < ScaleCard.Columns; column++)
                {
                    Vec2 at = card.PatternMm[0] + (right * column) + (down * row);
                    int white = ScaleCard.IsBlack(column, row) ? 1 : -1;
                    if (column + 1 < ScaleCard.Columns)
                        Add(photo, plane.ToPhoto(at + right), plane.ToPhoto(at + right + down), plane.ToPhoto(at + (right * (1 + (0.1 * white)))), sums, counts);
                    if (row + 1 < ScaleCard.Rows)
                        Add(photo, plane.ToPhoto(at + down), plane.ToPhoto(at + down + right), plane.ToPhoto(at + (down * (1 + (0.1 * white)))), sums, counts);
                }
            }
        }

        return Array.Exists(counts, c => c < FewestPixels)
            ? null
            : new PrintEdge([.. sums.Select((_, i) => (i - half) * BinPx)], [.. sums.Select((s, i) => s / counts[i])]);
    }

    // Adds the pixels beside the edge from one corner to the next; towards is a point on its white side.
    private static unsafe void Add(UprightPhoto photo, Vec2 from, Vec2 to, Vec2 towards, double[] sums, int[] counts)
    {
        int half = sums.Length / 2;
        double length = (to - from).Length;
        Vec2 along = (to - from) / length;
        Vec2 across = new(-along.Y, along.X);
        if (across.Dot(towards - from) < 0)
            across *= -1;
        double reach = (half + 0.5) * BinPx;
        int left = (int)Math.Ceiling(Math.Min(from.X, to.X) - reach);
        int right = (int)Math.Floor(Math.Max(from.X, to.X) + reach);
        int top = (int)Math.Ceiling(Math.Min(from.Y, to.Y) - reach);
        int bottom = (int)Math.Floor(Math.Max(from.Y, to.Y) + reach);
        if (left < 0 || top < 0 || right >= photo.Bgr.Width || bottom >= photo.Bgr.Height)
            return;
        for (int y = top; y <= bottom; y++)
        {
            byte* grey = (byte*)photo.Grey.Ptr(y);
            for (int x = left; x <= right; x++)
            {
                Vec2 off = new Vec2(x, y) - from;
                double share = off.Dot(along) / length;
                double distance = off.Dot(across);
                if (share is < CornerShare or > 1 - CornerShare || Math.Abs(distance) >= reach)
                    continue;
                int bin = (int)Math.Round(distance / BinPx) + half;
                sums[bin] += grey[x];
                counts[bin]++;
            }
        }
    }
}
