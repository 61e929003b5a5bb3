using DeflectScan.Numerics;


namespace DeflectScan.Tracing.Blank;

/// <summary>
/// Places a round bar's outline where shade or gloss changes its brightness right up to the edge: the background is level, the bar starts
/// with a step and goes on as a ramp, and both are blurred alike. Half levels lie inside such an outline by up to a pixel.
/// </summary>
internal static class ShadedEdge
{
    // A ramp is only believed as far as the data ask for it: its square costs this share of the step's.
    private const double RampPrice = 0.02;

    /// <summary>How far inward from where it was supposed the outline lies, mm, and the mean squared misfit there.</summary>
    /// <param name="values">Value, colour: from the outermost inward.</param>
    /// <param name="outsideMm">Distance of the first value from the supposed outline.</param>
    /// <param name="step">From value to value, mm.</param>
    /// <param name="blurMm">Blur, sigma.</param>
    /// <param name="pxMm">A pixel, larger where the photo is blurred.</param>
    /// <param name="moveMm">How far it may lie from where it was supposed.</param>
    public static (double InwardMm, double Misfit) Place(
        ReadOnlySpan<double> values, double outsideMm, double step, double blurMm, double pxMm, double moveMm)
    {
        int count = values.Length / 3;
        double grid = step / 2;
        int last = (int)(moveMm / grid);
        Span<double> misfits = stackalloc double[(2 * last) + 1];
        int best = 0;
        for (int j = 0; j < misfits.Length; j++)
        {
            misfits[j] = Misfit(values, count, outsideMm, (j - last) * grid, step, blurMm, pxMm);
            if (misfits[j] < misfits[best])
                best = j;
        }

        double at = best - last;
        if (best > 0 && best < misfits.Length - 1)
        {
            double bend = misfits[best - 1] - (2 * misfits[best]) + misfits[best + 1];
            if (bend > 0)
                at += 0.5 * (misfits[best - 1] - misfits[best + 1]) / bend;
        }

        return (at * grid, misfits[best] / count);
    }

    // Least squares of level, step and ramp, by hand: three unknowns at every place tried along every edge. w grows inward, the data start at w = -before, the edge is at w = edge.
    private static double Misfit(ReadOnlySpan<double> values, int count, double before, double edge, double step, double blurMm, double pxMm)
    {
        double n00 = 0, n01 = 0, n02 = 0, n11 = 0, n12 = 0, n22 = 0;
        Span<double> right = stackalloc double[9];
        right.Clear();
        double total = 0;
        for (int k = 0; k < count; k++)
        {
            double z = ((k * step) - before - edge) / blurMm;
            double density = NormalLaw.Density(z);
            double p = NormalLaw.Below(z, density);
            double ramp = blurMm * ((z * p) + density) / pxMm;
            n00++;
            n01 += p;
            n02 += ramp;
            n11 += p * p;
            n12 += p * ramp;
            n22 += ramp * ramp;
            for (int c = 0; c < 3; c++)
            {
                double v = values[(3 * k) + c];
                total += v * v;
                right[c] += v;
                right[3 + c] += v * p;
                right[6 + c] += v * ramp;
            }
        }

        n22 *= 1 + RampPrice;
        // Cholesky of the 3 x 3 normal matrix.
        double l00 = Math.Sqrt(n00);
        double l10 = n01 / l00;
        double l20 = n02 / l00;
        double l11 = Math.Sqrt(Math.Max(n11 - (l10 * l10), 1e-12));
        double l21 = (n12 - (l10 * l20)) / l11;
        double l22 = Math.Sqrt(Math.Max(n22 - (l20 * l20) - (l21 * l21), 1e-12));
        double explained = 0;
        for (int c = 0; c < 3; c++)
        {
            double a = right[c] / l00;
            double b = (right[3 + c] - (l10 * a)) / l11;
            double d = (right[6 + c] - (l20 * a) - (l21 * b)) / l22;
            explained += (a * a) + (b * b) + (d * d);
        }

        return total - explained;
    }

    internal static double Phi(double z) => NormalLaw.Below(z);
}
