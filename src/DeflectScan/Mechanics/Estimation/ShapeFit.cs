using System.Runtime.CompilerServices;
using DeflectScan.Numerics;

namespace DeflectScan.Mechanics.Estimation;

/// <summary>The fit's equations around one set of unknowns.</summary>
/// <param name="X">All unknowns.</param>
/// <param name="Misfit">Sum of squared whitened residuals of the points (χ²).</param>
/// <param name="Data">JᵀJ of the points, row by row.</param>
/// <param name="DataSlope">Jᵀr of the points.</param>
internal sealed record Linearised(double[] X, double Misfit, double[] Data, double[] DataSlope);

/// <summary>A settled fit for one weight of the roughness.</summary>
/// <param name="At">The equations where it settled.</param>
/// <param name="Factor">Cholesky factor of the normal matrix (data and priors).</param>
internal sealed record FitState(Linearised At, double[] Factor)
{
    public double[] X => At.X;

    /// <summary>Number of unknowns that the data settle: trace of (normal matrix)⁻¹ (data part).</summary>
    public double SettledUnknowns()
    {
        int n = X.Length;
        double[] inverse = Cholesky.Inverse(Factor, n);
        return Vectors.Dot(inverse, At.Data);
    }
}

/// <summary>Levenberg-Marquardt on the whitened residuals of all photos and the priors, for a given weight of the profile's roughness.</summary>
internal sealed class ShapeFit(IReadOnlyList<FitCase> cases, Unknowns unknowns, Priors priors, ProfilePrior profile, double? sameClampSdRad)
{
    private const int MostTurns = 40;

    public Unknowns Unknowns => unknowns;

    public IReadOnlyList<FitCase> Cases => cases;

    /// <summary>How many times the equations were set up.</summary>
    public int Evaluations { get; private set; }

    public int Points => cases.Sum(c => c.Rows);

    /// <summary>Settles from <paramref name="start"/>; null when it cannot.</summary>
    /// <param name="start">Unknowns to start from.</param>
    /// <param name="weight">Weight of the roughness.</param>
    /// <param name="byStation">Compare at equal arc length (first rough turns).</param>
    /// <param name="tolerance">Stops when the next step would lower the cost (in units of χ²) by less than this.</param>
    public FitState? Settle(double[] start, double weight, bool byStation, double tolerance)
    {
        int n = unknowns.Count;
        double[] precision = FullPrecision(weight);
        Linearised here = Linearise([.. start], byStation);
        double cost = here.Misfit + Quadratic(precision, here.X, out double[] pull);
        if (!double.IsFinite(cost))
            return null;
        double damping = 1e-4;
        for (int turn = 0; turn < MostTurns; turn++)
        {
            double[]? step = Step(here, precision, pull, damping, out double fall);
            if (step is not null && damping < 1e-3 && fall < tolerance)
                break;
            double[]? trial = step is null ? null : Moved(here.X, step);
            Linearised? there = trial is null ? null : Linearise(trial, byStation);
            double trialCost = double.PositiveInfinity;
            double[] trialPull = pull;
            if (there is not null)
                trialCost = there.Misfit + Quadratic(precision, there.X, out trialPull);
            if (!(trialCost <= cost * (1 + 1e-12)))
            {
                damping = Math.Max(damping * 8, 1e-6);
                if (damping > 1e8)
                    break;
                continue;
            }

            (here, cost, pull) = (there!, trialCost, trialPull);
            damping = damping < 1e-9 ? 0 : damping / 30;
        }

        double[]? factor = Cholesky.Factor(Sum(here.Data, precision), n);
        return factor is null ? null : new FitState(here, factor);
    }

    /// <summary>
    /// Logarithm of the marginal likelihood of a weight by Laplace's method, up to a constant, with the equations taken as linear around a
    /// settled fit; minus infinity where it cannot be had.
    /// </summary>
    public double LogEvidence(Linearised around, double weight)
    {
        int n = unknowns.Count;
        double[] precision = FullPrecision(weight);
        double[]? factor = Cholesky.Factor(Sum(around.Data, precision), n);
        if (factor is null)
            return double.NegativeInfinity;
        double cost = around.Misfit + Quadratic(precision, around.X, out double[] pull);
        double[] slope = new double[n];
        for (int i = 0; i < n; i++)
            slope[i] = around.DataSlope[i] + pull[i];
        double[] half = Cholesky.Forward(factor, n, slope);
        return -0.5 * (cost - Vectors.Dot(half, half) + Cholesky.LogDeterminant(factor, n) - profile.At(weight).LogDeterminant);
    }

    private static double[] Sum(double[] a, double[] b)
    {
        double[] sum = [.. a];
        Vectors.Add(sum, 1, b);
        return sum;
    }

    private double[]? Step(Linearised here, double[] precision, double[] pull, double damping, out double fall)
    {
        fall = double.PositiveInfinity;
        int n = unknowns.Count;
        double[] lifted = Sum(here.Data, precision);
        double[] slope = [.. here.DataSlope];
        for (int i = 0; i < n; i++)
        {
            lifted[(i * n) + i] *= 1 + damping;
            slope[i] += pull[i];
        }

        double[]? l = Cholesky.Factor(lifted, n);
        if (l is null)
            return null;
        double[] step = Cholesky.Solve(l, n, slope);
        fall = Vectors.Dot(step, slope);
        return step;
    }

    // The profile stays positive and no angle turns by more than a quarter radian in one step.
    private double[]? Moved(double[] x, double[] step)
    {
        double share = 1;
        for (int c = 0; c < cases.Count; c++)
            share = Math.Min(share, 0.25 / Math.Max(Math.Abs(step[unknowns.TipAngle(c)]), 1e-12));
        for (int i = 0; i < unknowns.Profile; i++)
        {
            if (step[i] > 0.4 * x[i])
                share = Math.Min(share, 0.4 * x[i] / step[i]);
        }

        double[] moved = [.. x];
        Vectors.Add(moved, -share, step);
        return moved.Take(unknowns.Profile).All(q => q > 0) ? moved : null;
    }

    // All priors at one weight: precision over all unknowns.
    private double[] FullPrecision(double weight)
    {
        int n = unknowns.Count;
        int q = unknowns.Profile;
        double[] all = [.. priors.Precision];
        double[] smooth = profile.At(weight).Precision;
        for (int i = 0; i < q; i++)
            smooth.AsSpan(i * q, q).CopyTo(all.AsSpan(i * n, q));
        return all;
    }

    private double Quadratic(double[] precision, double[] x, out double[] pull)
    {
        int n = unknowns.Count;
        double[] off = [.. x];
        Vectors.Add(off, -1, priors.Mean);
        pull = new double[n];
        for (int i = 0; i < n; i++)
            pull[i] = Vectors.Dot(precision.AsSpan(i * n, n), off);
        return Vectors.Dot(pull, off);
    }

    private Linearised Linearise(double[] x, bool byStation)
    {
        int n = unknowns.Count;
        Evaluations++;
        double[] data = new double[n * n];
        double[] slope = new double[n];
        double misfit = 0;
        for (int c = 0; c < cases.Count; c++)
        {
            (double[] r, double[] d) = cases[c].Evaluate(x, unknowns, c, byStation);
            misfit += Accumulate(cases[c], c, r, d, data, slope);
        }

        if (sameClampSdRad is { } sd)
        {
            for (int c = 1; c < cases.Count; c++)
                misfit += Tie(c, sd, data, slope);
        }

        for (int i = 0; i < n; i++)
        {
            for (int j = 0; j < i; j++)
                data[(j * n) + i] = data[(i * n) + j];
        }

        return new Linearised(x, misfit, data, slope);
    }

    // The clamp held both photos alike: its angle against the vertical is the first photo's within sd.
    private double Tie(int photo, double sd, double[] data, double[] slope)
    {
        int n = unknowns.Count;
        double off = cases[photo].ClampFromDownRad - cases[0].ClampFromDownRad;
        off = (off - (Math.Round(off / (2 * Math.PI)) * 2 * Math.PI)) / sd;
        double[] row = new double[n];
        for (int i = 0; i < cases[photo].ClampAngleBy.Length; i++)
        {
            row[unknowns.Global(photo, i)] += cases[photo].ClampAngleBy[i] / sd;
            row[unknowns.Global(0, i)] -= cases[0].ClampAngleBy[i] / sd;
        }

        Vectors.Add(slope, off, row);
        for (int i = 0; i < n; i++)
        {
            if (row[i] != 0)
                Vectors.Add(data.AsSpan(i * n, i + 1), row[i], row.AsSpan(0, i + 1));
        }

        return off * off;
    }

    // Adds JᵀJ (lower half) and Jᵀr of one photo.
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private double Accumulate(FitCase fitted, int photo, double[] r, double[] d, double[] data, double[] slope)
    {
        int width = fitted.Width;
        int n = unknowns.Count;
        double[] local = new double[width * width];
        double[] localSlope = new double[width];
        for (int row = 0; row < fitted.Rows; row++)
        {
            ReadOnlySpan<double> a = d.AsSpan(row * width, width);
            Vectors.Add(localSlope, r[row], a);
            for (int i = 0; i < width; i++)
            {
                if (a[i] != 0)
                    Vectors.Add(local.AsSpan(i * width, i + 1), a[i], a[..(i + 1)]);
            }
        }

        for (int i = 0; i < width; i++)
        {
            int gi = unknowns.Global(photo, i);
            slope[gi] += localSlope[i];
            for (int j = 0; j <= i; j++)
                data[(gi * n) + unknowns.Global(photo, j)] += local[(i * width) + j];
        }

        return Vectors.Dot(r, r);
    }
}
