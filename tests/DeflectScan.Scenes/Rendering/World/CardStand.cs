using DeflectScan.Geometry;

namespace DeflectScan.Scenes.Rendering.World;

/// <summary>A scale card as it stands: pattern 180 x 252 mm on an A4 board, parallel to the rod plane.</summary>
/// <param name="Index">0 for card A.</param>
/// <param name="TopLeft">Top-left corner of the pattern.</param>
/// <param name="ZMm">0 in the rod plane.</param>
/// <param name="RotationDeg">Counter-clockwise.</param>
public sealed record CardStand(int Index, Vec2 TopLeft, double ZMm, double RotationDeg)
{
    public const double SquareMm = 36;
    public const int Columns = 5;
    public const int Rows = 7;

    public char Letter => (char)('A' + Index);

    public int FirstId => 17 * Index;

    /// <summary>Unit direction along a row, as one reads it.</summary>
    public Vec2 Across => new(Math.Cos(RotationDeg * Math.PI / 180), Math.Sin(RotationDeg * Math.PI / 180));

    /// <summary>Unit direction down the card.</summary>
    public Vec2 Downwards => -Across.Perpendicular;

    public Vec2 Centre => At(90, 126);

    public Vec2 At(double acrossMm, double downMm) => TopLeft + (Across * acrossMm) + (Downwards * downMm);

    public IEnumerable<Vec2> OuterCorners() => [At(0, 0), At(180, 0), At(180, 252), At(0, 252)];

    public IEnumerable<Vec2> InnerCorners() =>
        from row in Enumerable.Range(1, Rows - 1)
        from column in Enumerable.Range(1, Columns - 1)
        select At(column * SquareMm, row * SquareMm);

    public static CardStand Centred(int index, Vec2 centre, double zMm, double rotationDeg)
    {
        CardStand card = new(index, default, zMm, rotationDeg);
        return card with { TopLeft = centre - card.Centre };
    }
}
