namespace DeflectScan.Scenes.Rendering.Paint;

/// <summary>Shake, smearing, halos and colours on a finished picture: 8-bit BGR, row by row, changed in place.</summary>
public static class PhoneFaults
{
    public static void Apply(CameraFaults f, int seed, byte[] bgr, int width, int height)
    {
        if (f.ShakePx > 0)
            Shake(f, seed, bgr, width, height);
        if (f.Smear > 0)
            Smear(f.Smear, bgr, width, height);
        if (f.Halo > 0)
            Halo(f, bgr, width, height);
        if (f.Contrast != 0 || f.Red != 1 || f.Blue != 1 || f.Saturation != 1)
            Colours(f, bgr);
    }

    // Mean over places along the path, bilinear; the noise that the blur takes away is put back as it comes after the shutter.
    private static void Shake(CameraFaults f, int seed, byte[] bgr, int width, int height)
    {
        (double sin, double cos) = Math.SinCos(f.ShakeDeg * Math.PI / 180);
        int taps = Math.Max(3, (2 * (int)Math.Ceiling(f.ShakePx)) + 1);
        byte[] from = (byte[])bgr.Clone();
        (int Offset, int Wx, int Wy)[] path = [.. Enumerable.Range(0, taps).Select(k => f.ShakePx * ((k / (taps - 1.0)) - 0.5)).Select(t =>
        {
            int x = (int)Math.Floor(t * cos);
            int y = (int)Math.Floor(t * sin);
            return (((y * width) + x) * 3, (int)Math.Round(16 * ((t * cos) - x)), (int)Math.Round(16 * ((t * sin) - y)));
        })];
        int row3 = width * 3;
        int margin = (int)f.ShakePx + 2;
        uint noise = (uint)seed | 1;
        for (int y = margin; y < height - margin; y++)
        {
            for (int i = (y * row3) + (3 * margin); i < ((y + 1) * row3) - (3 * margin); i++)
            {
                int sum = 0;
                foreach ((int offset, int wx, int wy) in path)
                {
                    int k = i + offset;
                    sum += ((((from[k] * (16 - wx)) + (from[k + 3] * wx)) * (16 - wy)) + (((from[k + row3] * (16 - wx)) + (from[k + row3 + 3] * wx)) * wy)) >> 4;
                }

                noise = (noise * 1664525) + 1013904223;
                bgr[i] = Clamp((sum / (16.0 * taps)) + (((noise >> 16) & 0xff) / 80.0) - 1.1);
            }
        }
    }

    // Mean of those of the 5 x 5 neighbours that differ little (Lee's sigma filter).
    private static void Smear(double strength, byte[] bgr, int width, int height)
    {
        byte[] from = (byte[])bgr.Clone();
        int row3 = width * 3;
        int limit = (int)(4 + (22 * strength));
        float share = (float)Math.Min(1, 0.6 + (0.4 * strength));
        for (int y = 2; y < height - 2; y++)
        {
            for (int x = 2; x < width - 2; x++)
            {
                int i = (y * row3) + (3 * x);
                int here = from[i] + (2 * from[i + 1]) + from[i + 2];
                (int n, int b, int g, int r) = (0, 0, 0, 0);
                for (int dy = -2; dy <= 2; dy++)
                {
                    int k = i + (dy * row3) - 6;
                    for (int dx = 0; dx < 5; dx++, k += 3)
                    {
                        int off = from[k] + (2 * from[k + 1]) + from[k + 2] - here;
                        if (off > 4 * limit || off < -4 * limit)
                            continue;
                        n++;
                        b += from[k];
                        g += from[k + 1];
                        r += from[k + 2];
                    }
                }

                bgr[i] = Clamp(from[i] + (share * (((float)b / n) - from[i])));
                bgr[i + 1] = Clamp(from[i + 1] + (share * (((float)g / n) - from[i + 1])));
                bgr[i + 2] = Clamp(from[i + 2] + (share * (((float)r / n) - from[i + 2])));
            }
        }
    }

    // Local tone mapping: away from the mean brightness of the surroundings, found on blocks and bilinear between.
    private static void Halo(CameraFaults f, byte[] bgr, int width, int height)
    {
        int cell = Math.Max(2, (int)(f.HaloPx / 2));
        int columns = (width / cell) + 2;
        int rows = (height / cell) + 2;
        float[] sum = new float[columns * rows];
        int[] count = new int[columns * rows];
        for (int y = 0; y < height; y++)
        {
            for (int x = 0; x < width; x++)
            {
                int i = ((y * width) + x) * 3;
                int k = (y / cell * columns) + (x / cell);
                sum[k] += (bgr[i] + (2 * bgr[i + 1]) + bgr[i + 2]) / 4f;
                count[k]++;
            }
        }

        for (int k = 0; k < sum.Length; k++)
            sum[k] = count[k] > 0 ? sum[k] / count[k] : -1;
        for (int y = 0; y < height; y++)
        {
            double v = Math.Clamp(((y + 0.5) / cell) - 0.5, 0, ((height - 1) / cell) - 0.001);
            for (int x = 0; x < width; x++)
            {
                double u = Math.Clamp(((x + 0.5) / cell) - 0.5, 0, ((width - 1) / cell) - 0.001);
                int k = ((int)v * columns) + (int)u;
                float s = (float)(u % 1);
                float t = (float)(v % 1);
                float mean = ((sum[k] * (1 - s)) + (sum[k + 1] * s)) * (1 - t) + (((sum[k + columns] * (1 - s)) + (sum[k + columns + 1] * s)) * t);
                int i = ((y * width) + x) * 3;
                float own = (bgr[i] + (2 * bgr[i + 1]) + bgr[i + 2]) / 4f;
                float gain = 1 + ((float)f.Halo * (own - mean) / (own + 40));
                for (int c = 0; c < 3; c++)
                    bgr[i + c] = Clamp(bgr[i + c] * gain);
            }
        }
    }

    private static void Colours(CameraFaults f, byte[] bgr)
    {
        byte[] curve = [.. Enumerable.Range(0, 256).Select(i => i / 255.0).Select(v => Clamp(255 * (v + (f.Contrast * v * (1 - v) * (v - 0.5) * 4))))];
        for (int i = 0; i < bgr.Length; i += 3)
        {
            float grey = (bgr[i] + (2 * bgr[i + 1]) + bgr[i + 2]) / 4f;
            bgr[i] = curve[Clamp((grey + ((bgr[i] - grey) * f.Saturation)) * f.Blue)];
            bgr[i + 1] = curve[Clamp(grey + ((bgr[i + 1] - grey) * f.Saturation))];
            bgr[i + 2] = curve[Clamp((grey + ((bgr[i + 2] - grey) * f.Saturation)) * f.Red)];
        }
    }

    private static byte Clamp(double v) => (byte)Math.Clamp(v + 0.5, 0, 255);
}
