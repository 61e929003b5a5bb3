using DeflectScan.Geometry;

namespace DeflectScan.Scenes.Rendering.Paint;

/// <summary>Finds for each pixel near a polyline the nearest of its segments, so that joints are neither missed nor painted twice.</summary>
internal static class Strokes
{
    /// <param name="canvas">Its scratch gets the result.</param>
    /// <param name="own">Generation of this polyline.</param>
    /// <param name="segment">Number of this segment.</param>
    /// <param name="a">Start, px.</param>
    /// <param name="b">End, px.</param>
    /// <param name="reach">Pixels farther away than this do not matter.</param>
    public static void Gather(Canvas canvas, int own, int segment, Vec2 a, Vec2 b, double reach)
    {
        int top = Math.Max(canvas.Top, (int)Math.Floor(Math.Min(a.Y, b.Y) - reach));
        int bottom = Math.Min(canvas.Bottom - 1, (int)Math.Ceiling(Math.Max(a.Y, b.Y) + reach));
        Vec2 run = b - a;
        double squared = run.LengthSquared;
        for (int y = top; y <= bottom; y++)
        {
            (double low, double high) = Reach(a, run, y, reach);
            int left = Math.Max(0, (int)Math.Floor(low));
            int right = Math.Min(canvas.Width - 1, (int)Math.Ceiling(high));
            int index = ((y - canvas.Top) * canvas.Width) + left;
            for (int x = left; x <= right; x++, index++)
            {
                Vec2 d = new Vec2(x, y) - a;
                double t = squared > 0 ? Math.Clamp(d.Dot(run) / squared, 0, 1) : 0;
                float near = (float)(d - (run * t)).LengthSquared;
                if (near > reach * reach)
                    continue;
                if (canvas.Stamp[index] != own)
                {
                    canvas.Stamp[index] = own;
                    canvas.Touched.Add(index);
                }
                else if (canvas.Near[index] <= near)
                {
                    continue;
                }

                canvas.Near[index] = near;
                canvas.Segment[index] = segment;
                canvas.Part[index] = (float)t;
            }
        }
    }

    // Columns that the segment's band can touch in row y.
    private static (double Low, double High) Reach(Vec2 a, Vec2 run, double y, double reach)
    {
        double low = Math.Min(a.X, a.X + run.X) - reach;
        double high = Math.Max(a.X, a.X + run.X) + reach;
        if (Math.Abs(run.Y) < 4 * reach)
            return (low, high);
        double t = (y - a.Y) / run.Y;
        double wide = reach * run.Length / Math.Abs(run.Y);
        double x = a.X + (t * run.X);
        return (Math.Max(low, x - wide), Math.Min(high, x + wide));
    }
}
