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
        Angle = new float[width * height];
    }

    public int Width { get; }

    public int Height { get; }

    public float[] Score { get; }

    public float[] Angle { get; }

    /// <param name="smooth">32-bit float, three channels, already smoothed.</param>
    /// <param name="sigma">Standard deviation of that smoothing in px.</param>
    /// <param name="leastContrast">Scores below this are 0.</param>
    public static unsafe BarLevel Of(Mat smooth, double sigma, double leastContrast)
    {
        BarLevel level = new(smooth.Width, smooth.Height);
        int width = smooth.Width;
        int height = smooth.Height;
        float* data = (float*)smooth.Data;
        int stride = (int)(smooth.Step() / sizeof(float));
        // A matched bar of contrast c has sigma^2 |second derivative| of about 0.4 c at its middle.
        float leastCurvature = (float)(0.25 * leastContrast / (sigma * sigma));
        float side = (float)(SideSigmas * sigma);
        int border = (int)Math.Ceiling(side) + 1;
        Parallel.For(border, Math.Max(border, height - border), y =>
        {
            for (int x = border; x < width - border; x++)
            {
                float* p = data + ((long)y * stride) + (3 * x);
                float best = leastCurvature;
                float nx = 0;
                float ny = 0;
                for (int c = 0; c < 3; c++, p++)
                {
                    float middle = 2 * p[0];
                    float xx = p[3] - middle + p[-3];
                    float yy = p[stride] - middle + p[-stride];
                    if (Math.Abs(xx) + Math.Abs(yy) < best)
                        continue;
                    float xy = 0.25f * (p[stride + 3] - p[stride - 3] - p[3 - stride] + p[-stride - 3]);
                    float half = 0.5f * (xx - yy);
                    float root = MathF.Sqrt((half * half) + (xy * xy));
                    float mean = 0.5f * (xx + yy);
                    float strong = mean >= 0 ? mean + root : mean - root;
                    float weak = mean >= 0 ? mean - root : mean + root;
                    if (Math.Abs(strong) <= best || weak * Math.Sign(strong) > BlobShare * Math.Abs(strong))
                        continue;
                    best = Math.Abs(strong);
                    // The eigenvector of the strong value, across the bar.
                    nx = strong - yy;
                    ny = xy;
                    if (Math.Abs(nx) + Math.Abs(ny) < 1e-6f)
                        (nx, ny) = Math.Abs(xx) >= Math.Abs(yy) ? (1f, 0f) : (0f, 1f);
                }

                if (nx == 0 && ny == 0)
                    continue;
                float norm = 1 / MathF.Sqrt((nx * nx) + (ny * ny));
                nx *= norm;
                ny *= norm;
                float score = TwoSided(data, stride, x, y, side * nx, side * ny);
                if (score < leastContrast)
                    continue;
                int i = (y * width) + x;
                level.Score[i] = score;
                level.Angle[i] = nx == 0 ? 0 : MathF.Atan(-nx / (ny == 0 ? 1e-9f : ny));
            }
        });
        return level;
    }

    private static unsafe float TwoSided(float* data, int stride, int x, int y, float dx, float dy)
    {
        float* middle = data + ((long)y * stride) + (3 * x);
        float sum = 0;
        for (int c = 0; c < 3; c++)
        {
            float left = middle[c] - At(data, stride, x - dx, y - dy, c);
            float right = middle[c] - At(data, stride, x + dx, y + dy, c);
            if (left * right <= 0)
                continue;
            float weaker = Math.Min(Math.Abs(left), Math.Abs(right));
            sum += weaker * weaker;
        }

        return MathF.Sqrt(sum);
    }

    private static unsafe float At(float* data, int stride, float x, float y, int c)
    {
        int ix = (int)x;
        int iy = (int)y;
        float fx = x - ix;
        float fy = y - iy;
        float* p = data + ((long)iy * stride) + (3 * ix) + c;
        float top = p[0] + (fx * (p[3] - p[0]));
        float bottom = p[stride] + (fx * (p[stride + 3] - p[stride]));
        return top + (fy * (bottom - top));
    }
}
