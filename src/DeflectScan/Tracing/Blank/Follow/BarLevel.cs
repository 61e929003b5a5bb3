using System.Numerics;
using OpenCvSharp;

namespace DeflectScan.Tracing.Blank;

/// <summary>Bar scores at one level of smoothing, on that level's own grid.</summary>
internal sealed class BarLevel
{
    // The two sides are looked at this many sigmas from the middle: outside a bar whose half width fits the smoothing (sqrt 3 sigma).
    private const double SideSigmas = 2.3;

    // A second curvature along the bar above this share of the one across it: a blob, a corner or a crossing.
    private const float BlobShare = 0.6f;

    private BarLevel(int width, int height)
    {
        Width = width;
        Height = height;
        Score = new float[width * height];
        Angle = new byte[width * height];
        RowHasBars = new bool[height];
    }

    public int Width { get; }

    public int Height { get; }

    /// <summary>Contrast to the weaker side in 8-bit levels; 0 where no bar.</summary>
    public float[] Score { get; }

    /// <summary>Direction along the bar: an index of <see cref="BarDirection"/>.</summary>
    public byte[] Angle { get; }

    public bool[] RowHasBars { get; }

    /// <param name="smooth">Three 32-bit float planes of one size, already smoothed.</param>
    /// <param name="sigma">Standard deviation of that smoothing in px.</param>
    /// <param name="leastContrast">Scores below this are 0.</param>
    public static unsafe BarLevel Of(Mat[] smooth, double sigma, double leastContrast)
    {
        BarLevel level = new(smooth[0].Width, smooth[0].Height);
        // A matched bar of contrast c has sigma^2 |second derivative| of about 0.4 c at its middle.
        float leastCurvature = (float)(0.25 * leastContrast / (sigma * sigma));
        float side = (float)(SideSigmas * sigma);
        int border = (int)Math.Ceiling(side) + 1;
        Planes planes = new((float*)smooth[0].Data, (float*)smooth[1].Data, (float*)smooth[2].Data, (int)(smooth[0].Step() / sizeof(float)));
        Parallel.For(border, Math.Max(border, level.Height - border), y => level.Row(planes, y, border, leastCurvature, side, (float)leastContrast));
        return level;
    }

    private unsafe void Row(Planes planes, int y, int border, float leastCurvature, float side, float leastContrast)
    {
        int lanes = Vector<float>.Count;
        Vector<float> least = new(leastCurvature);
        int end = Width - border;
        for (int x = border; x < end; x += lanes)
        {
            Vector<int> any = Vector<int>.Zero;
            if (x + lanes <= end)
            {
                for (int c = 0; c < 3; c++)
                {
                    float* p = planes[c] + ((long)y * planes.Stride) + x;
                    Vector<float> twice = 2 * Vector.Load(p);
                    Vector<float> xx = Vector.Load(p - 1) + Vector.Load(p + 1) - twice;
                    Vector<float> yy = Vector.Load(p - planes.Stride) + Vector.Load(p + planes.Stride) - twice;
                    any |= Vector.GreaterThan(Vector.Abs(xx) + Vector.Abs(yy), least);
                }

                if (Vector.EqualsAll(any, Vector<int>.Zero))
                    continue;
            }

            int stop = Math.Min(x + lanes, end);
            for (int k = x; k < stop; k++)
                Pixel(planes, k, y, leastCurvature, side, leastContrast);
        }
    }

    private unsafe void Pixel(Planes planes, int x, int y, float leastCurvature, float side, float leastContrast)
    {
        float best = leastCurvature;
        float nx = 0;
        float ny = 0;
        int stride = planes.Stride;
        for (int c = 0; c < 3; c++)
        {
            float* p = planes[c] + ((long)y * stride) + x;
            float twice = 2 * p[0];
            float xx = p[1] - twice + p[-1];
            float yy = p[stride] - twice + p[-stride];
            if (Math.Abs(xx) + Math.Abs(yy) < best)
                continue;
            float xy = 0.25f * (p[stride + 1] - p[stride - 1] - p[1 - stride] + p[-stride - 1]);
            float half = 0.5f * (xx - yy);
            float root = MathF.Sqrt((half * half) + (xy * xy));
            float mean = 0.5f * (xx + yy);
            float strong = mean >= 0 ? mean + root : mean - root;
            float weak = mean >= 0 ? mean - root : mean + root;
            if (Math.Abs(strong) <= best || (mean >= 0 ? weak : -weak) > BlobShare * Math.Abs(strong))
                continue;
            best = Math.Abs(strong);
            // The eigenvector of the strong value, across the bar.
            nx = strong - yy;
            ny = xy;
            if (Math.Abs(nx) + Math.Abs(ny) < 1e-6f)
                (nx, ny) = Math.Abs(xx) >= Math.Abs(yy) ? (1f, 0f) : (0f, 1f);
        }

        if (nx == 0 && ny == 0)
            return;
        float norm = side / MathF.Sqrt((nx * nx) + (ny * ny));
        float score = TwoSided(planes, x, y, nx * norm, ny * norm);
        if (score < leastContrast)
            return;
        int i = (y * Width) + x;
        Score[i] = score;
        Angle[i] = BarDirection.Index(-ny, nx);
        RowHasBars[y] = true;
    }

    private static unsafe float TwoSided(Planes planes, int x, int y, float dx, float dy)
    {
        float sum = 0;
        for (int c = 0; c < 3; c++)
        {
            float* plane = planes[c];
            float middle = plane[((long)y * planes.Stride) + x];
            float left = middle - At(plane, planes.Stride, x - dx, y - dy);
            float right = middle - At(plane, planes.Stride, x + dx, y + dy);
            if (left * right <= 0)
                continue;
            float weaker = Math.Min(Math.Abs(left), Math.Abs(right));
            sum += weaker * weaker;
        }

        return MathF.Sqrt(sum);
    }

    private static unsafe float At(float* plane, int stride, float x, float y)
    {
        int ix = (int)x;
        int iy = (int)y;
        float fx = x - ix;
        float fy = y - iy;
        float* p = plane + ((long)iy * stride) + ix;
        float top = p[0] + (fx * (p[1] - p[0]));
        float bottom = p[stride] + (fx * (p[stride + 1] - p[stride]));
        return top + (fy * (bottom - top));
    }

    private readonly unsafe struct Planes(float* first, float* second, float* third, int stride)
    {
        public int Stride => stride;

        public float* this[int c] => c == 0 ? first : c == 1 ? second : third;
    }
}
