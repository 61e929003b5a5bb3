using DeflectScan.Geometry;
using OpenCvSharp;

namespace DeflectScan.Tracing.Blank;

/// <summary>Turns linked crest points into strokes in the rod plane: cuts them at kinks and measures their widths and contrasts.</summary>
internal sealed class StrokeBuilder(SearchImage image, BarField field)
{
    private const int KinkReach = 9; // crest points to either side that say how sharply the stroke turns
    private const double KinkTurn = 0.42; // rad over twice that reach: a radius below some 45 px
    private const int Stride = 6; // crest points a sample

    public List<BarStroke> Build(List<Vec2[]> links, double shortestMm, int most)
    {
        List<(double Weight, Vec2[] Piece)> pieces = [];
        foreach (Vec2[] link in links)
        {
            foreach (Vec2[] piece in CutAtKinks(link))
            {
                double length = piece[0].DistanceTo(piece[^1]) * image.MmPerPx;
                if (length >= shortestMm)
                    pieces.Add((length * Math.Sqrt(MeanScore(piece)), piece));
            }
        }

        pieces.Sort((a, b) => b.Weight.CompareTo(a.Weight));
        List<BarStroke> strokes = [];
        foreach ((_, Vec2[] piece) in pieces.Take(most))
            strokes.Add(Measure(piece));
        return strokes;
    }

    private static IEnumerable<Vec2[]> CutAtKinks(Vec2[] link)
    {
        int from = 0;
        for (int i = KinkReach; i < link.Length - KinkReach; i++)
        {
            double turn = TurnAt(link, i);
            if (turn < KinkTurn || turn < TurnAt(link, Math.Max(KinkReach, i - 1)) || (i + 1 < link.Length - KinkReach && turn <= TurnAt(link, i + 1)))
                continue;
            if (i - from >= 4)
                yield return link[from..(i - 1)];
            from = i + 1;
        }

        if (link.Length - from >= 4)
            yield return link[from..];
    }

    private static double TurnAt(Vec2[] link, int i) =>
        Math.Abs(BarStroke.TurnBetween(link[i] - link[i - KinkReach], link[i + KinkReach] - link[i]));

    private double MeanScore(Vec2[] piece)
    {
        double sum = 0;
        foreach (Vec2 p in piece)
            sum += field.Score[Index(p)];
        return sum / piece.Length;
    }

    private int Index(Vec2 p) => ((int)Math.Round(p.Y) * field.Width) + (int)Math.Round(p.X);

    private BarStroke Measure(Vec2[] piece)
    {
        int count = Math.Max(2, (piece.Length / Stride) + 1);
        Vec2[] mm = new Vec2[count];
        double[] widths = new double[count];
        double length = 0;
        for (int k = 0; k < count; k++)
        {
            int i = (int)Math.Round((double)k * (piece.Length - 1) / (count - 1));
            Vec2 px = (piece[Math.Max(0, i - 1)] + piece[i] + piece[Math.Min(piece.Length - 1, i + 1)]) / 3;
            mm[k] = image.ToPlane(px);
            widths[k] = WidthPx(piece[i]) * image.MmPerPx;
            if (k > 0)
                length += mm[k].DistanceTo(mm[k - 1]);
        }

        return new BarStroke(mm, widths, MeanScore(piece), length);
    }

    // From each side's background (where the score looked) inward to half the way to the bar's own colour.
    private double WidthPx(Vec2 p)
    {
        int i = Index(p);
        double side = 2.3 * field.SigmaAt(i);
        Vec2 normal = new(-BarDirection.Y(field.Angle[i]), BarDirection.X(field.Angle[i]));
        return Half(p, normal, side) + Half(p, -normal, side);
    }

    private double Half(Vec2 p, Vec2 outward, double side)
    {
        Vec3f background = Sample(p + (outward * side));
        Span<double> apart = stackalloc double[64];
        int n = Math.Min(63, (int)Math.Ceiling(side / 0.25));
        double most = 0;
        for (int k = 0; k <= n; k++)
        {
            Vec3f d = Sample(p + (outward * (side * (n - k) / n))) - background;
            apart[k] = Math.Sqrt((d.Item0 * d.Item0) + (d.Item1 * d.Item1) + (d.Item2 * d.Item2));
            most = Math.Max(most, apart[k]);
        }

        for (int k = 1; k <= n; k++)
        {
            if (apart[k] < most / 2)
                continue;
            double t = (apart[k] - (most / 2)) / Math.Max(apart[k] - apart[k - 1], 1e-9);
            return side * (n - k + Math.Clamp(t, 0, 1)) / n;
        }

        return side;
    }

    private unsafe Vec3f Sample(Vec2 p)
    {
        double x = Math.Clamp(p.X, 0, image.Width - 1.001);
        double y = Math.Clamp(p.Y, 0, image.Height - 1.001);
        int ix = (int)x;
        int iy = (int)y;
        float fx = (float)(x - ix);
        float fy = (float)(y - iy);
        Span<float> value = stackalloc float[3];
        for (int c = 0; c < 3; c++)
        {
            float* row = (float*)image.Planes[c].Ptr(iy) + ix;
            float* below = (float*)image.Planes[c].Ptr(iy + 1) + ix;
            float top = row[0] + (fx * (row[1] - row[0]));
            value[c] = top + (fy * (below[0] + (fx * (below[1] - below[0])) - top));
        }

        return new Vec3f(value[0], value[1], value[2]);
    }
}
