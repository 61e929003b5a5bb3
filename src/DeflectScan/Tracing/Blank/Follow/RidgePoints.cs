using DeflectScan.Geometry;

namespace DeflectScan.Tracing.Blank;

/// <summary>The field's crest points: pixels whose score is the largest across the bar, placed to a fraction of a pixel.</summary>
internal sealed class RidgePoints
{
    private const float Ahead = 2; // px
    private const float GoesOnShare = 0.4f;

    private readonly int[] _at;
    private readonly int _width;

    private RidgePoints(int width, int[] at, Crest[] crests)
    {
        _width = width;
        _at = at;
        Crests = crests;
    }

    public Crest[] Crests { get; }

    /// <summary>Index of the crest point in that pixel, or -1.</summary>
    public int At(int x, int y) => _at[(y * _width) + x] - 1;

    public static RidgePoints Of(BarField field)
    {
        int width = field.Width;
        List<Crest>[] rows = new List<Crest>[field.Height];
        Parallel.For(3, field.Height - 3, y =>
        {
            if (field.RowHasBars[y])
                rows[y] = Row(field, y);
        });
        Crest[] all = [.. rows.Where(r => r is not null).SelectMany(r => r)];
        int[] at = new int[field.Score.Length];
        for (int i = 0; i < all.Length; i++)
            at[(all[i].Row * width) + all[i].Column] = i + 1;
        return new RidgePoints(width, at, all);
    }

    private static List<Crest> Row(BarField field, int y)
    {
        List<Crest> crests = [];
        for (int x = 3; x < field.Width - 3; x++)
        {
            int i = (y * field.Width) + x;
            float middle = field.Score[i];
            if (middle <= 0)
                continue;
            float nx = -BarDirection.Y(field.Angle[i]);
            float ny = BarDirection.X(field.Angle[i]);
            float right = Sample(field, x + nx, y + ny);
            if (right >= middle)
                continue;
            float left = Sample(field, x - nx, y - ny);
            if (left > middle)
                continue;
            // A bar goes on to both sides along itself; the flank of a dot does not.
            float least = GoesOnShare * middle;
            if (Sample(field, x + (Ahead * ny), y - (Ahead * nx)) < least || Sample(field, x - (Ahead * ny), y + (Ahead * nx)) < least)
                continue;
            float bend = left - (2 * middle) + right;
            float shift = bend < 0 ? Math.Clamp(0.5f * (left - right) / bend, -0.7f, 0.7f) : 0;
            crests.Add(new Crest(x, y, x + (shift * nx), y + (shift * ny), ny, -nx, middle));
        }

        return crests;
    }

    private static float Sample(BarField field, float x, float y)
    {
        int ix = (int)x;
        int iy = (int)y;
        float fx = x - ix;
        float fy = y - iy;
        int i = (iy * field.Width) + ix;
        float[] s = field.Score;
        float top = s[i] + (fx * (s[i + 1] - s[i]));
        float bottom = s[i + field.Width] + (fx * (s[i + field.Width + 1] - s[i + field.Width]));
        return top + (fy * (bottom - top));
    }
}

/// <summary>A crest point.</summary>
/// <param name="Column">Pixel.</param>
/// <param name="Row">Pixel.</param>
/// <param name="X">Place in search px.</param>
/// <param name="Y">Place in search px.</param>
/// <param name="AlongX">Unit direction along the bar, either sense.</param>
/// <param name="AlongY">Its y.</param>
/// <param name="Score">Contrast to the weaker side.</param>
internal readonly record struct Crest(int Column, int Row, float X, float Y, float AlongX, float AlongY, float Score)
{
    public Vec2 Place => new(X, Y);
}
