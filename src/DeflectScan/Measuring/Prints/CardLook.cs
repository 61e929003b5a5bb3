using DeflectScan.Calibration;
using DeflectScan.Calibration.Cards;
using DeflectScan.Geometry;
using DeflectScan.Imaging;
using DeflectScan.Numerics;
using DeflectScan.Photos;
using DeflectScan.Tracing.Line;

namespace DeflectScan.Measuring.Prints;

/// <summary>How a card's print shows in the photo: the edges of its squares say how sharp the photo is and how it was lit.</summary>
/// <param name="BlurPx">Sigma of the edges, px: contrast over sqrt(2 pi) times the steepest slope, as for a normal blur; median over the edges.</param>
/// <param name="Contrast">White minus black, grey levels of 255; median.</param>
/// <param name="White">Grey level of white; median.</param>
internal sealed record CardLook(double BlurPx, double Contrast, double White)
{
    private const double StepPx = 0.25;
    private const double WhiteMarginMm = (ScaleCard.SquareMm - ScaleCard.MarkerMm) / 2;

    /// <summary>The look of a card; null where too few of its edges lie in the photo.</summary>
    public static CardLook? Of(UprightPhoto photo, RodPlane plane, SolvedCard card)
    {
        PhotoSampler sampler = new(photo.Bgr);
        Vec2 origin = card.PatternMm[0];
        Vec2 right = (card.PatternMm[1] - origin) / ScaleCard.Columns;
        Vec2 down = (card.PatternMm[3] - origin) / ScaleCard.Rows;
        List<(double Blur, double Contrast, double White)> edges = [];
        for (int row = 0; row < ScaleCard.Rows; row++)
        {
            for (int column = 0; column < ScaleCard.Columns; column++)
            {
                Vec2 at = origin + (right * column) + (down * row);
                int sign = ScaleCard.IsBlack(column, row) ? 1 : -1;
                if (column + 1 < ScaleCard.Columns)
                    Add(at + right, right.Normalized() * sign, down);
                if (row + 1 < ScaleCard.Rows)
                    Add(at + down, down.Normalized() * sign, right);
            }
        }

        return edges.Count < 6 ? null : new CardLook(OrderStatistics.Middle(edges.Select(e => e.Blur)), OrderStatistics.Middle(edges.Select(e => e.Contrast)), OrderStatistics.Middle(edges.Select(e => e.White)));

        void Add(Vec2 cornerMm, Vec2 toWhite, Vec2 along)
        {
            if (Edge(sampler, plane, cornerMm, toWhite, along) is { } edge)
                edges.Add(edge);
        }
    }

    /// <summary>Mean profile across one edge, from black to white, and what it says; null where it leaves the photo or is no edge.</summary>
    private static (double Blur, double Contrast, double White)? Edge(PhotoSampler sampler, RodPlane plane, Vec2 cornerMm, Vec2 toWhite, Vec2 along)
    {
        double px = plane.MmPerPx(cornerMm + (along / 2));
        double reachPx = Math.Min(WhiteMarginMm * 0.9 / px, 14);
        int half = (int)(reachPx / StepPx);
        double[] profile = new double[(2 * half) + 1];
        const int Lanes = 12;
        for (int lane = 0; lane < Lanes; lane++)
        {
            Vec2 foot = cornerMm + (along * (0.3 + (0.4 * lane / (Lanes - 1))));
            Vec2 from = plane.ToPhoto(foot - (toWhite * (reachPx * px)));
            Vec2 to = plane.ToPhoto(foot + (toWhite * (reachPx * px)));
            if (!sampler.Contains(from, 3) || !sampler.Contains(to, 3))
                return null;
            for (int i = 0; i < profile.Length; i++)
                profile[i] += sampler.At(Vec2.Lerp(from, to, i / (profile.Length - 1.0))).Luma / Lanes;
        }

        const int Slope = 2; // steps to either side: one px across
        double steepest = 0;
        for (int i = Slope; i < profile.Length - Slope; i++)
            steepest = Math.Max(steepest, (profile[i + Slope] - profile[i - Slope]) / (2 * Slope * StepPx));
        double contrast = profile.Max() - profile.Min();
        return steepest <= 0 ? null : (contrast / (Math.Sqrt(2 * Math.PI) * steepest), contrast, profile.Max());
    }
}
