using OpenCvSharp;

namespace DeflectScan.Tracing.Blank;

/// <summary>
/// How strongly each pixel looks like the middle of a bar that stands out from both its sides in the same sense, over several widths
/// and over luma and colour. The second derivatives say which way the bar lies (Steger 1998, "An unbiased detector of curvilinear
/// structures"); the score is the smaller of the contrasts to the two sides, so step edges and the flanks of bars score nothing.
/// </summary>
internal sealed class BarField
{
    // Sigma of the smoothing in px of the level, and the level's halvings: bars of about 1.5 to 20 px.
    private static readonly (int Halvings, double Sigma)[] Levels = [(0, 0.9), (0, 1.7), (1, 1.6), (2, 1.4)];

    private BarField(int width, int height)
    {
        Width = width;
        Height = height;
        Score = new float[width * height];
        Angle = new float[width * height];
        Sigma = new float[width * height];
    }

    public int Width { get; }

    public int Height { get; }

    /// <summary>Contrast to the weaker side in 8-bit levels; 0 where no bar.</summary>
    public float[] Score { get; }

    /// <summary>Direction along the bar in radians, -pi/2 to pi/2.</summary>
    public float[] Angle { get; }

    /// <summary>Smoothing at which the score was found, search px: half a bar's width is about 1.7 of it.</summary>
    public float[] Sigma { get; }

    public static BarField Of(SearchImage image, double leastContrast)
    {
        BarField field = new(image.Width, image.Height);
        Mat level = image.Channels;
        int halvings = 0;
        try
        {
            foreach ((int halved, double sigma) in Levels)
            {
                while (halvings < halved)
                {
                    Mat half = new();
                    Cv2.Resize(level, half, new Size((level.Width + 1) / 2, (level.Height + 1) / 2), 0, 0, InterpolationFlags.Area);
                    if (halvings > 0)
                        level.Dispose();
                    level = half;
                    halvings++;
                }

                using Mat smooth = new();
                Cv2.GaussianBlur(level, smooth, new Size(0, 0), sigma);
                field.Merge(BarLevel.Of(smooth, sigma, leastContrast), (float)(sigma * (1 << halved)));
            }
        }
        finally
        {
            if (halvings > 0)
                level.Dispose();
        }

        field.ClearMasked(image.Masked);
        return field;
    }

    private void Merge(BarLevel level, float sigma)
    {
        if (level.Width == Width)
        {
            for (int i = 0; i < Score.Length; i++)
            {
                if (level.Score[i] > Score[i])
                    (Score[i], Angle[i], Sigma[i]) = (level.Score[i], level.Angle[i], sigma);
            }

            return;
        }

        using Mat coarse = Mat.FromPixelData(level.Height, level.Width, MatType.CV_32FC1, level.Score);
        using Mat fine = new();
        Cv2.Resize(coarse, fine, new Size(Width, Height), 0, 0, InterpolationFlags.Linear);
        fine.GetArray(out float[] score);
        double fx = (double)level.Width / Width;
        double fy = (double)level.Height / Height;
        Parallel.For(0, Height, y =>
        {
            int row = Math.Min((int)((y + 0.5) * fy), level.Height - 1) * level.Width;
            for (int x = 0; x < Width; x++)
            {
                int i = (y * Width) + x;
                if (score[i] <= Score[i])
                    continue;
                int near = row + Math.Min((int)((x + 0.5) * fx), level.Width - 1);
                if (level.Score[near] > 0)
                    (Score[i], Angle[i], Sigma[i]) = (score[i], level.Angle[near], sigma);
            }
        });
    }

    private void ClearMasked(Mat masked)
    {
        masked.GetArray(out byte[] mask);
        for (int i = 0; i < Score.Length; i++)
        {
            if (mask[i] != 0)
                Score[i] = 0;
        }
    }
}
