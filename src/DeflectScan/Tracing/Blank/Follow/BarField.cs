using OpenCvSharp;

namespace DeflectScan.Tracing.Blank;

/// <summary>
/// How strongly each pixel looks like the middle of a bar that stands out from both its sides in the same sense, over several widths
/// and over luma and colour. The second derivatives say which way the bar lies (Steger 1998, "An unbiased detector of curvilinear
/// structures"); the score is the smaller of the contrasts to the two sides, so step edges and the flanks of bars score nothing.
/// </summary>
internal sealed class BarField
{
    // Every level is the one before, halved, under the same smoothing: bars of about 1.5 to 24 px of the search picture.
    private const int Levels = 4;
    private const double Sigma = 0.9;

    private readonly byte[] _level;

    private BarField(BarLevel finest)
    {
        Width = finest.Width;
        Height = finest.Height;
        Score = finest.Score;
        Angle = finest.Angle;
        RowHasBars = finest.RowHasBars;
        _level = new byte[Score.Length];
    }

    public int Width { get; }

    public int Height { get; }

    /// <summary>Contrast to the weaker side in 8-bit levels; 0 where no bar.</summary>
    public float[] Score { get; }

    /// <summary>Direction along the bar: an index of <see cref="BarDirection"/>.</summary>
    public byte[] Angle { get; }

    public bool[] RowHasBars { get; }

    /// <summary>Smoothing at which the score was found, search px: half a bar's width is about 1.7 of it.</summary>
    public double SigmaAt(int index) => Sigma * (1 << _level[index]);

    public static BarField Of(SearchImage image, double leastContrast)
    {
        Mat[] planes = [.. image.Planes.Select(p => p.Clone())];
        BarField? field = null;
        try
        {
            for (int k = 0; k < Levels; k++)
            {
                Mat[] smooth = [.. planes.Select(_ => new Mat())];
                Parallel.For(0, 3, c =>
                {
                    if (k > 0)
                    {
                        using Mat half = new();
                        Cv2.Resize(planes[c], half, new Size(planes[c].Width / 2, planes[c].Height / 2), 0, 0, InterpolationFlags.Area);
                        half.CopyTo(planes[c]);
                    }

                    Cv2.GaussianBlur(planes[c], smooth[c], new Size(7, 7), Sigma);
                });
                BarLevel level = BarLevel.Of(smooth, Sigma, leastContrast);
                foreach (Mat m in smooth)
                    m.Dispose();
                if (field is null)
                    field = new BarField(level);
                else
                    field.Merge(level, k);
            }
        }
        finally
        {
            foreach (Mat m in planes)
                m.Dispose();
        }

        field!.ClearMasked(image.Masked);
        return field;
    }

    // The coarser score, linear between its pixels, where it is the larger.
    private void Merge(BarLevel coarse, int halvings)
    {
        Parallel.For(0, Height, y => MergeRow(coarse, halvings, y));
    }

    private void MergeRow(BarLevel coarse, int halvings, int y)
    {
        float scale = 1f / (1 << halvings);
        float v = Math.Clamp(((y + 0.5f) * scale) - 0.5f, 0, coarse.Height - 1.001f);
        int iv = (int)v;
        if (!coarse.RowHasBars[iv] && !coarse.RowHasBars[iv + 1])
            return;
        RowHasBars[y] = true;
        float fv = v - iv;
        int nearRow = Math.Min((int)(v + 0.5f), coarse.Height - 1) * coarse.Width;
        for (int x = 0; x < Width; x++)
        {
            float u = Math.Clamp(((x + 0.5f) * scale) - 0.5f, 0, coarse.Width - 1.001f);
            int iu = (int)u;
            int near = nearRow + (int)(u + 0.5f);
            if (coarse.Score[near] <= 0)
                continue;
            float fu = u - iu;
            int at = (iv * coarse.Width) + iu;
            float[] s = coarse.Score;
            float top = s[at] + (fu * (s[at + 1] - s[at]));
            float bottom = s[at + coarse.Width] + (fu * (s[at + coarse.Width + 1] - s[at + coarse.Width]));
            float score = top + (fv * (bottom - top));
            int i = (y * Width) + x;
            if (score > Score[i])
                (Score[i], Angle[i], _level[i]) = (score, coarse.Angle[near], (byte)halvings);
        }
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
