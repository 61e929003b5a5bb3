namespace DeflectScan.Layout;

/// <summary>The largest value of a function of the station: from samples, then refined on the function itself.</summary>
/// <param name="At">Station.</param>
/// <param name="Value">Value there.</param>
internal readonly record struct Peak(double At, double Value)
{
    private const double Golden = 0.3819660112501051;

    /// <summary>
    /// Brent's method without derivatives (R. P. Brent, Algorithms for Minimization without Derivatives, 1973, chapter 5; from memory):
    /// parabolic steps guarded by golden sections. Never worse than the start.
    /// </summary>
    /// <param name="f">The function to make large.</param>
    /// <param name="lo">Left end of the search.</param>
    /// <param name="hi">Right end of the search.</param>
    /// <param name="start">The best sample so far, from lo to hi.</param>
    /// <param name="tolerance">How near in the station, in its unit.</param>
    public static Peak Refine(Func<double, double> f, double lo, double hi, Peak start, double tolerance = 1e-4)
    {
        double x = start.At, w = x, v = x;
        double fx = start.Value, fw = fx, fv = fx;
        double step = 0, before = 0;
        for (int i = 0; i < 40; i++)
        {
            double middle = (lo + hi) / 2;
            if (Math.Abs(x - middle) <= (2 * tolerance) - ((hi - lo) / 2))
                break;
            bool golden = true;
            if (Math.Abs(before) > tolerance)
            {
                double r = (x - w) * (fv - fx);
                double q = (x - v) * (fw - fx);
                double p = ((x - v) * q) - ((x - w) * r);
                q = 2 * (q - r);
                p = q > 0 ? -p : p;
                q = Math.Abs(q);
                if (Math.Abs(p) < Math.Abs(q * before / 2) && p > q * (lo - x) && p < q * (hi - x))
                {
                    (before, step) = (step, p / q);
                    golden = false;
                }
            }

            if (golden)
            {
                before = x < middle ? hi - x : lo - x;
                step = Golden * before;
            }

            double u = x + (Math.Abs(step) >= tolerance ? step : Math.CopySign(tolerance, step));
            double fu = f(u);
            if (fu >= fx)
            {
                if (u < x)
                    hi = x;
                else
                    lo = x;
                (v, fv, w, fw, x, fx) = (w, fw, x, fx, u, fu);
                continue;
            }

            if (u < x)
                lo = u;
            else
                hi = u;
            if (fu >= fw || w == x)
                (v, fv, w, fw) = (w, fw, u, fu);
            else if (fu >= fv || v == x || v == w)
                (v, fv) = (u, fu);
        }

        return new Peak(x, fx);
    }
}
