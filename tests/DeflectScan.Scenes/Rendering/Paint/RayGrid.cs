using DeflectScan.Geometry;
using DeflectScan.Scenes.Rendering.World;

namespace DeflectScan.Scenes.Rendering.Paint;

/// <summary>
/// Normalised pinhole coordinates of every pixel, undistorted exactly every 8 px and bilinear between (for a phone's lens off by less
/// than a thousandth of a pixel).
/// </summary>
public sealed class RayGrid
{
    private const int Cell = 8;
    private const int Margin = 4;
    private readonly int _columns;
    private readonly Vec2[] _nodes;

    public RayGrid(SceneCamera camera)
    {
        _columns = (camera.WidthPx / Cell) + 2 + (2 * Margin);
        int rows = (camera.HeightPx / Cell) + 2 + (2 * Margin);
        _nodes = new Vec2[_columns * rows];
        for (int j = 0; j < rows; j++)
        {
            for (int i = 0; i < _columns; i++)
                _nodes[(j * _columns) + i] = camera.Lens.Undistort(new Vec2((i - Margin) * Cell, (j - Margin) * Cell));
        }
    }

    public Vec2 At(int x, int y)
    {
        int gx = x + (Margin * Cell);
        int gy = y + (Margin * Cell);
        int k = (gy / Cell * _columns) + (gx / Cell);
        double u = gx % Cell / (double)Cell;
        double v = gy % Cell / (double)Cell;
        Vec2 a = _nodes[k] + ((_nodes[k + 1] - _nodes[k]) * u);
        Vec2 b = _nodes[k + _columns] + ((_nodes[k + _columns + 1] - _nodes[k + _columns]) * u);
        return a + ((b - a) * v);
    }
}
