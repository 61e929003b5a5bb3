using DeflectScan.Geometry;

namespace DeflectScan.Mechanics;

/// <summary>
/// The blank's properties on the steps of the integration, tip to clamp, tabulated once: three values a step (start, middle, end), so that
/// jumps at a step's end stay jumps.
/// </summary>
internal sealed class BendGrid
{
    private BendGrid(double[] stations)
    {
        Stations = stations;
        Flexibility = new double[3 * Steps];
        Natural = new double[3 * Steps];
        Weight = new double[3 * Steps];
        NodeForce = new Vec2[stations.Length];
        NodeArmForces = [];
    }

    /// <summary>Stations in mm of the steps' ends, 0 first.</summary>
    public double[] Stations { get; }

    public int Steps => Stations.Length - 1;

    /// <summary>1/EI in 1/(N·mm²).</summary>
    public double[] Flexibility { get; }

    /// <summary>Natural curvature in 1/mm.</summary>
    public double[] Natural { get; }

    /// <summary>Weight in N between the tip and here, without point weights.</summary>
    public double[] Weight { get; }

    /// <summary>Forces in N that come in at the steps' ends, without moment about the axis.</summary>
    public Vec2[] NodeForce { get; }

    /// <summary>Forces on arms: node, force, arm.</summary>
    public (int Node, Vec2 ForceN, double ArmMm)[] NodeArmForces { get; private set; }

    public double LengthMm => Stations[^1];

    public static BendGrid Of(BlankModel blank, Vec2 down, IReadOnlyList<ArmForce> arms, BendOptions options)
    {
        List<double> fixedStations = [.. blank.PointWeights.Select(p => p.StationMm), .. blank.JumpsMm, .. arms.Select(a => a.StationMm)];
        BendGrid grid = new(Spread(blank.LengthMm, fixedStations, options));
        grid.Tabulate(blank);
        foreach (PointWeight p in blank.PointWeights)
            grid.NodeForce[grid.NodeAt(p.StationMm)] += down * p.WeightN;
        grid.SetArms(arms);
        return grid;
    }

    /// <summary>Puts other forces on the arms; their stations must be those that the grid was made with.</summary>
    public void SetArms(IReadOnlyList<ArmForce> arms) =>
        NodeArmForces = [.. arms.Select(a => (NodeAt(a.StationMm), a.ForceN, a.ArmMm)).OrderBy(a => a.Item1)];

    public int NodeAt(double station)
    {
        int i = Array.BinarySearch(Stations, station);
        if (i >= 0)
            return i;
        int above = Math.Clamp(~i, 1, Steps);
        return station - Stations[above - 1] < Stations[above] - station ? above - 1 : above;
    }

    private static double[] Spread(double length, List<double> fixedStations, BendOptions options)
    {
        List<double> stops = [0, .. fixedStations.Where(s => s > 1e-6 * length && s < (1 - 1e-9) * length).Order(), length];
        List<double> stations = [0];
        double a = options.TipStep;
        foreach (double stop in stops.Skip(1))
        {
            double from = stations[^1];
            if (stop - from < 1e-9 * length)
                continue;

            // The even coordinate u of station s: s / L = a u + (1 - a) u².
            double u0 = Even(from / length, a);
            double u1 = Even(stop / length, a);
            int n = Math.Max(1, (int)Math.Ceiling((u1 - u0) * options.Steps));
            for (int i = 1; i < n; i++)
            {
                double u = u0 + ((u1 - u0) * i / n);
                stations.Add(length * u * (a + ((1 - a) * u)));
            }

            stations.Add(stop);
        }

        return [.. stations];
    }

    private static double Even(double share, double a) =>
        a >= 1 ? share : (Math.Sqrt((a * a) + (4 * (1 - a) * share)) - a) / (2 * (1 - a));

    private void Tabulate(BlankModel blank)
    {
        double nudge = blank.JumpsMm.Count > 0 ? 1e-10 * blank.LengthMm : 0;
        double carried = 0;
        for (int i = 0; i < Steps; i++)
        {
            double from = Stations[i];
            double to = Stations[i + 1];
            double h = to - from;
            ReadOnlySpan<double> at = [from + nudge, (from + to) / 2, to - nudge];
            for (int k = 0; k < 3; k++)
            {
                double ei = blank.StiffnessNmm2(at[k]);
                if (!(ei > 0) || double.IsInfinity(ei))
                    throw new ArgumentException($"The stiffness at {at[k]:0.#} mm from the tip is {ei}: it must be positive.", nameof(blank));
                Flexibility[(3 * i) + k] = 1 / ei;
                Natural[(3 * i) + k] = blank.NaturalCurvaturePerMm(at[k]);
            }

            Weight[3 * i] = carried;
            if (blank.HasWeight)
            {
                double w0 = blank.WeightPerMmN(at[0]);
                double w1 = blank.WeightPerMmN(at[1]);
                double w2 = blank.WeightPerMmN(at[2]);
                Weight[(3 * i) + 1] = carried + (h * ((5 * w0) + (8 * w1) - w2) / 24);
                carried += h * (w0 + (4 * w1) + w2) / 6;
                Weight[(3 * i) + 2] = carried;
            }
        }
    }
}
