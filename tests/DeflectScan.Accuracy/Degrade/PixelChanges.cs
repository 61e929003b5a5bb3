using DeflectScan.Scenes;
using OpenCvSharp;

namespace DeflectScan.Accuracy.Degrade;

/// <summary>Changes of pixels that stay where they are.</summary>
internal static class PixelChanges
{
    /// <summary>Adds normal noise of a standard deviation in grey levels, each channel on its own.</summary>
    public static unsafe void Noise(Mat bgr, double sigma, Random random)
    {
        sbyte[] table = new sbyte[65536];
        for (int i = 0; i < table.Length; i++)
            table[i] = (sbyte)Math.Clamp(Math.Round(sigma * Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble())), -127, 127);
        int rows = bgr.Rows;
        int bytes = bgr.Cols * 3;
        byte[] dice = new byte[2 * bytes];
        for (int y = 0; y < rows; y++)
        {
            random.NextBytes(dice);
            Span<byte> row = new((void*)bgr.Ptr(y), bytes);
            for (int x = 0; x < bytes; x++)
                row[x] = (byte)Math.Clamp(row[x] + table[(dice[2 * x] << 8) | dice[(2 * x) + 1]], 0, 255);
        }
    }

    /// <summary>A patch, 40 to 80 mm across, over some place of the bare blank.</summary>
    public static void CoverBlank(Mat bgr, Truth truth, Random random)
    {
        TruthSample[] bare = [.. truth.Blank.Samples.Where(s => s.S >= truth.Blank.VisibleFromSMm)];
        TruthSample at = bare[random.Next(bare.Length / 12, bare.Length * 11 / 12)];
        Cover(bgr, at.U, at.V, (20 + (20 * random.NextDouble())) / truth.Camera.MmPerPxCentre, random);
    }

    /// <summary>A patch over one guide, ring and feet.</summary>
    public static void CoverGuide(Mat bgr, Truth truth, Random random)
    {
        TruthGuide g = truth.Guides[random.Next(0, truth.Guides.Count - 1)];
        Cover(bgr, g.RingCentrePx[0], g.RingCentrePx[1], (g.RingOuterMm + g.HeightMm + 8) / truth.Camera.MmPerPxCentre, random);
    }

    private static void Cover(Mat bgr, double x, double y, double radiusPx, Random random)
    {
        Scalar colour = new(random.Next(40, 200), random.Next(40, 200), random.Next(40, 200));
        Cv2.Ellipse(bgr, new RotatedRect(new Point2f((float)x, (float)y), new Size2f(2 * radiusPx, 2.4 * radiusPx), random.Next(180)), colour, -1, LineTypes.AntiAlias);
    }
}
