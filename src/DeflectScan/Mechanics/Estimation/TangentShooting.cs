using System.Runtime.CompilerServices;
using DeflectScan.Geometry;
using DeflectScan.Numerics;

namespace DeflectScan.Mechanics.Estimation;

/// <summary>The unknowns that one integration from the tip depends on, and where their derivatives stand in a row.</summary>
/// <param name="Profile">Number of coefficients of q = C^(1/4), first in the row.</param>
/// <param name="Natural">Number of coefficients of the natural curvature, next.</param>
internal sealed record TangentLayout(int Profile, int Natural)
{
    public int Weight => Profile + Natural;

    public int TipAngle => Weight + 1;

    public int ForceAngle => Weight + 2;

    public int LogForce => Weight + 3;

    public int Count => Weight + 4;
}

/// <summary>A bend integrated from the tip (at the origin) with the derivatives of every node's place by every unknown.</summary>
internal sealed class TangentTrace(int nodes, int count)
{
    public int Count { get; } = count;

    public double[] Angle { get; } = new double[nodes];

    public double[] Moment { get; } = new double[nodes];

    public Vec2[] Place { get; } = new Vec2[nodes];

    public double[] AngleBy { get; } = new double[nodes * count];

    public double[] XBy { get; } = new double[nodes * count];

    public double[] YBy { get; } = new double[nodes * count];
}

/// <summary>
/// The elastica from the tip in units of the reference force: θ' = −(κ0 + M/q⁴), M' = t × R, with R = f e(φ) + w × (share of the weight
/// between tip and s) × down. Fourth-order Runge-Kutta with the exact derivative of the scheme by all unknowns.
/// </summary>
internal sealed class TangentShooting
{
    private readonly BendGrid _grid;
    private readonly int[] _profileFirst;
    private readonly double[] _profile;
    private readonly int[] _naturalFirst;
    private readonly double[] _natural;

    public TangentShooting(BendGrid grid, CubicBasis profile, CubicBasis natural)
    {
        _grid = grid;
        Layout = new TangentLayout(profile.Count, natural.Count);
        (_profileFirst, _profile) = Tabulate(profile);
        (_naturalFirst, _natural) = Tabulate(natural);
    }

    public TangentLayout Layout { get; }

    public double[] Stations => _grid.Stations;

    /// <param name="q">Coefficients of q.</param>
    /// <param name="natural">Coefficients of the natural curvature, 1/mm.</param>
    /// <param name="weight">Own weight over the reference force.</param>
    /// <param name="down">Unit vector of gravity.</param>
    /// <param name="tipAngle">Radians.</param>
    /// <param name="forceAngle">Radians.</param>
    /// <param name="force">Pull over the reference force; 0 at rest.</param>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public TangentTrace Run(
        ReadOnlySpan<double> q, ReadOnlySpan<double> natural, double weight, Vec2 down, double tipAngle, double forceAngle, double force)
    {
        int p = Layout.Count;
        int nodes = _grid.Stations.Length;
        TangentTrace trace = new(nodes, p);
        double[] state = new double[4 + (4 * p)];
        double[] at = new double[state.Length];
        double[] k = new double[state.Length];
        double[] sum = new double[state.Length];
        state[0] = tipAngle;
        state[4 + Layout.TipAngle] = 1;
        Vec2 pull = new Vec2(Math.Cos(forceAngle), Math.Sin(forceAngle)) * force;
        Vec2 hung = default;
        for (int i = 0; i < nodes; i++)
        {
            hung += down * _grid.NodeForce[i].Length;
            Keep(trace, i, state);
            if (i == nodes - 1)
                break;
            double h = _grid.Stations[i + 1] - _grid.Stations[i];
            Array.Copy(state, sum, state.Length);
            for (int stage = 0; stage < 4; stage++)
            {
                int row = (3 * i) + ((stage + 1) / 2);
                Forces forces = new(pull, hung + (down * _grid.Weight[row]), weight);
                Rates(stage == 0 ? state : at, row, forces, q, natural, k);
                double share = h * (stage is 0 or 3 ? 1 : 2) / 6;
                double ahead = stage == 2 ? h : h / 2;
                Vectors.Add(sum, share, k);
                Vectors.Combine(at, state, ahead, k);
            }

            (state, sum) = (sum, state);
        }

        return trace;
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private void Rates(double[] y, int row, Forces w, ReadOnlySpan<double> q, ReadOnlySpan<double> natural, double[] k)
    {
        int p = Layout.Count;
        (double sin, double cos) = Math.SinCos(y[0]);
        double width = Sum(_profile, _profileFirst, row, q);
        double c = 1 / (width * width * width * width);
        double kappa0 = Sum(_natural, _naturalFirst, row, natural);
        Vec2 r = w.Total;
        double turn = -((sin * r.Y) + (cos * r.X));
        k[0] = -(kappa0 + (c * y[1]));
        k[1] = (cos * r.Y) - (sin * r.X);
        k[2] = -cos;
        k[3] = -sin;
        ReadOnlySpan<double> angle = y.AsSpan(4, p);
        ReadOnlySpan<double> moment = y.AsSpan(4 + p, p);
        Span<double> kAngle = k.AsSpan(4, p);
        Span<double> kMoment = k.AsSpan(4 + p, p);
        Span<double> kX = k.AsSpan(4 + (2 * p), p);
        Span<double> kY = k.AsSpan(4 + (3 * p), p);
        Vectors.Scale(kAngle, -c, moment);
        Vectors.Scale(kMoment, turn, angle);
        Vectors.Scale(kX, sin, angle);
        Vectors.Scale(kY, -cos, angle);

        double byWidth = 4 * c * y[1] / width;
        for (int j = 0; j < 4; j++)
        {
            kAngle[_profileFirst[row] + j] += byWidth * _profile[(4 * row) + j];
            kAngle[Layout.Profile + _naturalFirst[row] + j] -= _natural[(4 * row) + j];
        }

        kMoment[Layout.Weight] += (cos * w.Hung.Y) - (sin * w.Hung.X);
        kMoment[Layout.ForceAngle] += (cos * w.Pull.X) + (sin * w.Pull.Y);
        kMoment[Layout.LogForce] += (cos * w.Pull.Y) - (sin * w.Pull.X);
    }

    private static double Sum(double[] values, int[] first, int row, ReadOnlySpan<double> coefficients)
    {
        double sum = 0;
        for (int j = 0; j < 4; j++)
            sum += values[(4 * row) + j] * coefficients[first[row] + j];
        return sum;
    }

    private void Keep(TangentTrace trace, int node, double[] state)
    {
        int p = Layout.Count;
        trace.Angle[node] = state[0];
        trace.Moment[node] = state[1];
        trace.Place[node] = new Vec2(state[2], state[3]);
        state.AsSpan(4, p).CopyTo(trace.AngleBy.AsSpan(node * p));
        state.AsSpan(4 + (2 * p), p).CopyTo(trace.XBy.AsSpan(node * p));
        state.AsSpan(4 + (3 * p), p).CopyTo(trace.YBy.AsSpan(node * p));
    }

    private (int[] First, double[] Values) Tabulate(CubicBasis basis)
    {
        int[] first = new int[3 * _grid.Steps];
        double[] values = new double[12 * _grid.Steps];
        for (int i = 0; i < _grid.Steps; i++)
        {
            double from = _grid.Stations[i];
            double to = _grid.Stations[i + 1];
            for (int k = 0; k < 3; k++)
                first[(3 * i) + k] = basis.At(from + ((to - from) * k / 2), values.AsSpan(4 * ((3 * i) + k), 4));
        }

        return (first, values);
    }

    private readonly record struct Forces(Vec2 Pull, Vec2 Hung, double Weight)
    {
        public Vec2 Total => Pull + (Hung * Weight);
    }
}
