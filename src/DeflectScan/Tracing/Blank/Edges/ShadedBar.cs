using DeflectScan.Numerics;

namespace DeflectScan.Tracing.Blank;

/// <summary>
/// Places both outlines of a thin bar at once: two backgrounds, each level, and a bar between them whose brightness changes evenly from
/// one side to the other, all blurred alike. In a bar of a few pixels no edge has a level of its own.
/// </summary>
internal static class ShadedBar
{
    private const double MovePx = 1.25; // how far each outline may move
    private const double RampPrice = 0.05; // a slope across the bar costs this share of its square
    private const int Unknowns = 4;

    /// <summary>How far each outline lies from where it was supposed, mm, both towards the end of the values.</summary>
    /// <param name="values">Value, colour: across the bar and its background.</param>
    /// <param name="lowerMm">Supposed first outline, from the first value.</param>
    /// <param name="upperMm">Supposed second outline.</param>
    /// <param name="step">From value to value, mm.</param>
    /// <param name="blurMm">Blur, sigma.</param>
    /// <param name="pxMm">A pixel, larger where the photo is blurred.</param>
    public static (double Lower, double Upper) Place(double[] values, double lowerMm, double upperMm, double step, double blurMm, double pxMm)
    {
        int count = values.Length / 3;
        int moves = (int)(MovePx * pxMm / step);
        int options = (2 * moves) + 1;
        (double[] Step, double[] Ramp) lower = Edges(lowerMm, options, moves, count, step, blurMm);
        (double[] Step, double[] Ramp) upper = Edges(upperMm, options, moves, count, step, blurMm);
        double[] misfits = new double[options * options];
        int best = (moves * options) + moves;
        for (int a = 0; a < options; a++)
        {
            for (int b = 0; b < options; b++)
            {
                double width = upperMm - lowerMm + ((b - a) * step);
                int i = (a * options) + b;
                misfits[i] = width < 0.8 * pxMm
                    ? double.MaxValue
                    : Misfit(values, count, lower.Step.AsSpan(a * count, count), lower.Ramp.AsSpan(a * count, count), upper.Step.AsSpan(b * count, count), upper.Ramp.AsSpan(b * count, count), width);
                if (misfits[i] < misfits[best])
                    best = i;
            }
        }

        (double l, double u) = Between(misfits, options, best);
        return ((l - moves) * step, (u - moves) * step);
    }

    // The lowest point of the parabolic surface through the nine misfits about the best.
    private static (double A, double B) Between(double[] m, int options, int best)
    {
        int a = best / options;
        int b = best % options;
        if (a == 0 || b == 0 || a == options - 1 || b == options - 1)
            return (a, b);
        double M(int i, int j) => m[((a + i) * options) + b + j];
        double ga = (M(1, 0) - M(-1, 0)) / 2;
        double gb = (M(0, 1) - M(0, -1)) / 2;
        double haa = M(1, 0) - (2 * M(0, 0)) + M(-1, 0);
        double hbb = M(0, 1) - (2 * M(0, 0)) + M(0, -1);
        double hab = (M(1, 1) - M(1, -1) - M(-1, 1) + M(-1, -1)) / 4;
        double d = (haa * hbb) - (hab * hab);
        if (d <= 0 || haa <= 0 || double.IsInfinity(d))
            return (a, b);
        double da = -((hbb * ga) - (hab * gb)) / d;
        double db = -((haa * gb) - (hab * ga)) / d;
        return Math.Abs(da) > 1 || Math.Abs(db) > 1 ? (a, b) : (a + da, b + db);
    }

    private static (double[] Step, double[] Ramp) Edges(double edge, int options, int moves, int count, double step, double blurMm)
    {
        double[] p = new double[options * count];
        double[] r = new double[options * count];
        for (int j = 0; j < options; j++)
        {
            for (int k = 0; k < count; k++)
            {
                double z = ((k * step) - edge - ((j - moves) * step)) / blurMm;
                double density = NormalLaw.Density(z);
                double phi = NormalLaw.Below(z, density);
                p[(j * count) + k] = phi;
                r[(j * count) + k] = blurMm * ((z * phi) + density);
            }
        }

        return (p, r);
    }

    // Least squares of: level, step up at the lower edge, step at the upper edge, and a slope between them about the middle.
    private static double Misfit(
        double[] values, int count, ReadOnlySpan<double> step1, ReadOnlySpan<double> ramp1, ReadOnlySpan<double> step2, ReadOnlySpan<double> ramp2, double width)
    {
        Span<double> n = stackalloc double[Unknowns * Unknowns];
        Span<double> right = stackalloc double[3 * Unknowns];
        Span<double> f = stackalloc double[Unknowns];
        n.Clear();
        right.Clear();
        double total = 0;
        for (int k = 0; k < count; k++)
        {
            f[0] = 1;
            f[1] = step1[k];
            f[2] = step2[k];
            f[3] = ((ramp1[k] - ramp2[k]) / width) - (0.5 * (step1[k] + step2[k]));
            for (int a = 0; a < Unknowns; a++)
            {
                for (int b = 0; b <= a; b++)
                    n[(a * Unknowns) + b] += f[a] * f[b];
                for (int c = 0; c < 3; c++)
                    right[(c * Unknowns) + a] += f[a] * values[(3 * k) + c];
            }

            for (int c = 0; c < 3; c++)
                total += values[(3 * k) + c] * values[(3 * k) + c];
        }

        n[15] *= 1 + RampPrice;
        for (int a = 0; a < Unknowns; a++)
        {
            for (int b = 0; b <= a; b++)
            {
                double sum = n[(a * Unknowns) + b];
                for (int k = 0; k < b; k++)
                    sum -= n[(a * Unknowns) + k] * n[(b * Unknowns) + k];
                n[(a * Unknowns) + b] = a == b ? Math.Sqrt(Math.Max(sum, 1e-12)) : sum / n[(b * Unknowns) + b];
            }
        }

        double explained = 0;
        for (int c = 0; c < 3; c++)
        {
            for (int a = 0; a < Unknowns; a++)
            {
                double sum = right[(c * Unknowns) + a];
                for (int k = 0; k < a; k++)
                    sum -= n[(a * Unknowns) + k] * right[(c * Unknowns) + k];
                right[(c * Unknowns) + a] = sum / n[(a * Unknowns) + a];
                explained += right[(c * Unknowns) + a] * right[(c * Unknowns) + a];
            }
        }

        return total - explained;
    }
}
