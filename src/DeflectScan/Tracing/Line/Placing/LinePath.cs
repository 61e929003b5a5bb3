using DeflectScan.Geometry;

namespace DeflectScan.Tracing.Line;

/// <summary>The line through the rings, as far as a band of half pixels tells it.</summary>
/// <param name="Points">The tip-top's contact, one in every ring, one towards the reel; where the line comes to lie on the blank, too. Rod-plane mm.</param>
/// <param name="Vertices">What each of these points is.</param>
/// <param name="Score">Log-likelihood ratio of the line against nothing.</param>
internal sealed record LinePath(IReadOnlyList<Vec2> Points, IReadOnlyList<LineVertex> Vertices, double Score)
{
    /// <summary>The line's level at every column of a band; NaN where it does not run.</summary>
    public double[] Levels(BandStrip strip)
    {
        double[] levels = new double[strip.Columns];
        Array.Fill(levels, double.NaN);
        int piece = 0;
        for (int c = 0; c < strip.Columns; c++)
        {
            Vec2 foot = strip.PlanePoint(c, 0);
            Vec2 up = strip.PlanePoint(c, 1) - foot;
            while (piece < Points.Count - 2 && Beyond(Points[piece + 1], foot, up, strip.Side))
                piece++;
            if (!Beyond(Points[piece], foot, up, strip.Side) || Beyond(Points[piece + 1], foot, up, strip.Side))
                continue;
            Vec2 d = Points[piece + 1] - Points[piece];
            levels[c] = strip.LevelOf((Points[piece] - foot).Cross(d) / up.Cross(d));
        }

        return levels;
    }

    /// <summary>Whether the normal at a foot lies farther from the tip than a point.</summary>
    private static bool Beyond(Vec2 point, Vec2 foot, Vec2 up, double side) => (point - foot).Cross(up) * side <= 0;
}
