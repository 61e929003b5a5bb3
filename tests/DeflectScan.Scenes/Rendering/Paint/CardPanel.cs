using System.Numerics;
using DeflectScan.Geometry;
using DeflectScan.Scenes.Rendering.World;

namespace DeflectScan.Scenes.Rendering.Paint;

/// <summary>
/// A scale card: ChArUco pattern with the marker bits of OpenCV's own dictionary on a white A4 board. Every edge lies on a grid
/// of 4.5 mm, so a pixel that lies within one cell is exact; others average 32 places of a low-discrepancy pattern.
/// </summary>
public sealed class CardPanel : Panel
{
    private const double Module = 4.5;
    private const double LeftMargin = 15;
    private const double TopMargin = 22.5;
    private const int Samples = 32;
    private static readonly Vector3 White = new(0.84f, 0.84f, 0.83f);
    private static readonly Vector3 Black = new(0.035f, 0.035f, 0.037f);
    private readonly bool[,] _black;
    private readonly CardStand _card;
    private readonly Lighting _light;

    public CardPanel(SceneCamera camera, Lighting light, CardStand card)
        : base(camera, Vec3.InPlane(card.At(-LeftMargin, -TopMargin), card.ZMm), Vec3.InPlane(card.Across), Vec3.InPlane(card.Downwards), 210, 297, (_, _, _) => White)
    {
        _black = Pattern(card);
        _card = card;
        _light = light;
    }

    protected override Vector3 Colour(int x, int y, Vec2 at, Vec2 dx, Vec2 dy)
    {
        double reachX = (Math.Abs(dx.X) + Math.Abs(dy.X)) / 2;
        double reachY = (Math.Abs(dx.Y) + Math.Abs(dy.Y)) / 2;
        Vec2 p = at - new Vec2(LeftMargin, TopMargin);
        double lit = _light.Irradiance(Vec3.InPlane(_card.At(p.X, p.Y), _card.ZMm), new Vec3(0, 0, 1));
        if (Cell(p.X - reachX) == Cell(p.X + reachX) && Cell(p.Y - reachY) == Cell(p.Y + reachY))
            return (IsBlack(p.X, p.Y) ? Black : White) * (float)lit;
        int black = 0;
        double a = ((x * 0.37) + (y * 0.71)) % 1;
        double b = ((x * 0.53) + (y * 0.29)) % 1;
        for (int k = 0; k < Samples; k++)
        {
            // Roberts' R2 sequence.
            a = (a + 0.7548776662466927) % 1;
            b = (b + 0.5698402909980532) % 1;
            Vec2 q = p + (dx * (a - 0.5)) + (dy * (b - 0.5));
            black += IsBlack(q.X, q.Y) ? 1 : 0;
        }

        return Vector3.Lerp(White, Black, black / (float)Samples) * (float)lit;
    }

    private static int Cell(double mm) => (int)Math.Floor(mm / Module);

    private static bool[,] Pattern(CardStand card)
    {
        bool[,] black = new bool[8 * CardStand.Columns, 8 * CardStand.Rows];
        int id = card.FirstId;
        for (int row = 0; row < CardStand.Rows; row++)
        {
            for (int column = 0; column < CardStand.Columns; column++)
            {
                if ((row + column) % 2 == 0)
                    Fill(black, column, row);
                else
                    Marker(black, column, row, id++);
            }
        }

        return black;
    }

    private static void Fill(bool[,] black, int column, int row)
    {
        for (int j = 0; j < 8; j++)
        {
            for (int i = 0; i < 8; i++)
                black[(8 * column) + i, (8 * row) + j] = true;
        }
    }

    private static void Marker(bool[,] black, int column, int row, int id)
    {
        for (int j = 0; j < 6; j++)
        {
            for (int i = 0; i < 6; i++)
                black[(8 * column) + 1 + i, (8 * row) + 1 + j] = CardBits.IsBlack(id, i, j);
        }
    }

    private bool IsBlack(double x, double y)
    {
        int i = Cell(x);
        int j = Cell(y);
        if (i >= 0 && j >= 0 && i < _black.GetLength(0) && j < _black.GetLength(1))
            return _black[i, j];

        // The check rule on the lower edge: 100 mm with a tick every 10 mm.
        double below = y - 262;
        return (below is > 0 and < 0.4 && x is > 40 and < 140) || (below is > -4 and < 0.4 && x is > 39.8 and < 140.2 && Math.Abs(x - (Math.Round(x / 10) * 10)) < 0.2);
    }
}
