using DeflectScan.Geometry;
using DeflectScan.Scenes;

namespace DeflectScan.Accuracy.Degrade;

/// <summary>The truth of a photo that was cropped, scaled or turned: every px moves, no mm does.</summary>
public static class TruthWarp
{
    public static Truth Of(Truth truth, PixelMap map)
    {
        Truth warped = truth with
        {
            Image = truth.Image with { Displayed = [map.Width, map.Height], Stored = [map.Width, map.Height], Orientation = 1 },
            Camera = Camera(truth.Camera, map),
            Cards = [.. truth.Cards.Select(c => c with { OuterCornersPx = Pairs(c.OuterCornersPx, map), InnerCornersPx = Pairs(c.InnerCornersPx, map) })],
            Blank = truth.Blank with
            {
                AnchorPx = Pair(truth.Blank.AnchorPx, map),
                Samples = [.. truth.Blank.Samples.Select(s => map.Map(new Vec2(s.U, s.V)) is var p ? s with { U = p.X, V = p.Y } : s)],
            },
            Guides = [.. truth.Guides.Select(g => g with { RingCentrePx = Pair(g.RingCentrePx, map), ContactPx = Pair(g.ContactPx, map) })],
            Line = truth.Line with
            {
                HangsToPx = truth.Line.HangsToPx is { } hangs ? Pair(hangs, map) : null,
                Vertices = [.. truth.Line.Vertices.Select(v => map.Map(new Vec2(v.U, v.V)) is var p ? v with { U = p.X, V = p.Y } : v)],
            },
        };
        return truth.ExpectsOk && !ShowsTheRod(warped, map) ? warped with { Expected = "refuse_or_review" } : warped;
    }

    private static bool ShowsTheRod(Truth warped, PixelMap map) =>
        warped.Blank.Samples.Where(s => s.S >= warped.Blank.VisibleFromSMm).All(s => map.IsInside(new Vec2(s.U, s.V)))
        && warped.Guides.All(g => map.IsInside(new Vec2(g.ContactPx[0], g.ContactPx[1])));

    private static TruthCamera Camera(TruthCamera c, PixelMap map)
    {
        Vec2 centre = map.Map(new Vec2(c.K[0][2], c.K[1][2]));
        double f = c.K[0][0] * map.Scale;
        double[][] r = c.R;
        double[] t = c.T;
        double[] d = c.Distortion;
        for (int i = 0; i < map.QuarterTurns; i++)
        {
            // A quarter turn clockwise: the new x looks along the old -y, the new y along the old x; (p2, p1) turns as a vector does.
            r = [[.. r[1].Select(v => -v)], r[0], r[2]];
            t = [-t[1], t[0], t[2]];
            d = [d[0], d[1], d[3], -d[2], d[4]];
        }

        return c with { K = [[f, 0, centre.X], [0, f, centre.Y], [0, 0, 1]], R = r, T = t, Distortion = d, MmPerPxCentre = c.MmPerPxCentre / map.Scale };
    }

    private static double[] Pair(double[] px, PixelMap map)
    {
        Vec2 p = map.Map(new Vec2(px[0], px[1]));
        return [p.X, p.Y];
    }

    private static double[][] Pairs(double[][] px, PixelMap map) => [.. px.Select(p => Pair(p, map))];
}
