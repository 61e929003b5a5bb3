using DeflectScan.Geometry;

namespace DeflectScan.Tracing.Blank;

/// <summary>The field's crest points: pixels whose score is the largest across the bar, placed to a fraction of a pixel.</summary>
internal sealed class RidgePoints
{
    private readonly int[] _at;
    private readonly int _width;

    private RidgePoints(int width, int[] at, List<Vec2> places, List<float> angles, List<float> scores)
    {
        _width = width;
        _at = at;
        Places = places;
        Angles = angles;
        Scores = scores;
    }

    /// <summary>Search px.</summary>
    public IReadOnlyList<Vec2> Places { get; }

    /// <summary>Direction along the bar in radians, either sense.</summary>
    public IReadOnlyList<float> Angles { get; }

    public IReadOnlyList<float> Scores { get; }

    /// <summary>Index of the crest point in that pixel, or -1.</summary>
    public int At(int x, int y) => _at[(y * _width) + x];

    public static RidgePoints Of(BarField field)
    {
        int width = field.Width;
        int[] at = new int[field.Score.Length];
        Array.Fill(at, -1);
        List<Vec2> places = [];
        List<float> angles = [];
        List<float> scores = [];
        for (int y = 2; y < field.Height - 2; y++)
        {
            for (int x = 2; x < width - 2; x++)
            {
                int i = (y * width) + x;
                float middle = field.Score[i];
                if (middle <= 0)
                    continue;
                float nx = -MathF.Sin(field.Angle[i]);
                float ny = MathF.Cos(field.Angle[i]);
                float right = Sample(field, x + nx, y + ny);
                float left = Sample(field, x - nx, y - ny);
                if (left > middle || right >= middle)
                    continue;
                float bend = left - (2 * middle) + right;
                float shift = bend < 0 ? Math.Clamp(0.5f * (left - right) / bend, -0.7f, 0.7f) : 0;
                at[i] = places.Count;
                places.Add(new Vec2(x + (shift * nx), y + (shift * ny)));
                angles.Add(field.Angle[i]);
                scores.Add(middle);
            }
        }

        return new RidgePoints(width, at, places, angles, scores);
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
