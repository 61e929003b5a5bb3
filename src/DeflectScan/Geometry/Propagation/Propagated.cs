namespace DeflectScan.Geometry.Propagation;

/// <summary>
/// Figures with what makes them uncertain (JCGM 100:2008, 5.1 and 5.2): independent causes, each displaced by one standard deviation, and
/// what that does to every figure. Two figures that one displacement moves are correlated through it. What acts on one figure alone is kept
/// as a variance of its own.
/// </summary>
/// <typeparam name="TCause">What displacements are called; several displacements may share a cause.</typeparam>
public sealed class Propagated<TCause>
    where TCause : notnull
{
    private readonly List<(TCause Cause, double[] Effect)> _displacements = [];
    private readonly Dictionary<TCause, double[]> _own = [];
    private double[]? _mean; // null: as they were displaced first
    private double[,]? _root;

    public Propagated(IReadOnlyList<double> values) => Values = [.. values];

    public IReadOnlyList<double> Values { get; }

    public IEnumerable<TCause> Causes => _displacements.Select(d => d.Cause).Concat(_own.Keys).Distinct();

    /// <summary>Adds a cause's displacement: the figures when it is displaced by one standard deviation.</summary>
    public void Displace(TCause cause, IReadOnlyList<double> displaced) =>
        _displacements.Add((cause, [.. displaced.Select((v, i) => v - Values[i])]));

    /// <summary>Adds a variance that concerns one figure alone.</summary>
    public void Add(TCause cause, int figure, double variance)
    {
        if (!_own.TryGetValue(cause, out double[]? own))
            _own[cause] = own = new double[Values.Count];
        own[figure] += variance;
    }

    /// <summary>The causes of the displacements, in the order in which they were made.</summary>
    public IReadOnlyList<TCause> DisplacementCauses => [.. _displacements.Select(d => d.Cause)];

    /// <summary>What observations made of the causes themselves; null where none was used.</summary>
    public CauseEstimate? Estimate => _mean is null || _root is null ? null : new CauseEstimate(_mean, _root);

    /// <summary>The same uncertainties about other values, of figures worked out again from adjusted causes.</summary>
    public Propagated<TCause> About(IReadOnlyList<double> values)
    {
        Propagated<TCause> moved = new(values) { _mean = _mean, _root = _root };
        moved._displacements.AddRange(_displacements);
        foreach ((TCause cause, double[] own) in _own)
            moved._own[cause] = [.. own];
        return moved;
    }

    public double Variance(int figure) => Covariance(figure, figure);

    /// <summary>A cause's part of a figure's variance; the parts add up to the whole.</summary>
    public double Variance(int figure, TCause cause) =>
        _displacements.Where(d => d.Cause.Equals(cause)).Sum(d => d.Effect[figure] * d.Effect[figure])
        + (_own.TryGetValue(cause, out double[]? own) ? own[figure] : 0);

    public double Sd(int figure) => Math.Sqrt(Variance(figure));

    public double Covariance(int a, int b) =>
        _displacements.Sum(d => d.Effect[a] * d.Effect[b]) + (a == b ? _own.Values.Sum(own => own[a]) : 0);

    public double Correlation(int a, int b) => Covariance(a, b) / Math.Sqrt(Variance(a) * Variance(b));

    /// <summary>What a further observation says of these figures before it is used: how far off it is and how far off it may be.</summary>
    /// <param name="weights">The observed quantity as a sum of figures, a weight a figure.</param>
    /// <param name="observed">Its observed value.</param>
    /// <param name="sd">The observation's own standard uncertainty.</param>
    /// <returns>Observed minus expected, and the standard uncertainty of that difference.</returns>
    public (double Difference, double Sd) Compare(IReadOnlyDictionary<int, double> weights, double observed, double sd)
    {
        double expected = weights.Sum(w => w.Value * Values[w.Key]);
        double[] sensitivity = Sensitivity(weights);
        double own = weights.Sum(w => w.Value * w.Value * _own.Values.Sum(o => o[w.Key]));
        return (observed - expected, Math.Sqrt(sensitivity.Sum(s => s * s) + own + (sd * sd)));
    }

    /// <summary>
    /// The figures adjusted to a further observation: the least-squares adjustment of all causes and the observation together, linearised
    /// (JCGM 102:2011, 6; the same as a Kalman update). Variances of single figures count as the observation's own.
    /// </summary>
    public Propagated<TCause> Given(IReadOnlyDictionary<int, double> weights, double observed, double sd)
    {
        (double difference, double all) = Compare(weights, observed, sd);
        double variance = all * all;
        double[] a = Sensitivity(weights);
        double aa = a.Sum(s => s * s);
        if (aa == 0)
            return this;

        // The causes' covariance becomes I - a aᵀ / v; its symmetric root is I - k a aᵀ with k as below.
        double k = (1 - Math.Sqrt(Math.Max(0, 1 - (aa / variance)))) / aa;
        double[] effectOfObserved = new double[Values.Count];
        for (int f = 0; f < Values.Count; f++)
        {
            for (int c = 0; c < a.Length; c++)
                effectOfObserved[f] += _displacements[c].Effect[f] * a[c];
        }

        (double[] mean, double[,] root) = EstimateAfter(a, k, difference / variance);
        Propagated<TCause> adjusted = new([.. Values.Select((v, f) => v + (effectOfObserved[f] * difference / variance))]) { _mean = mean, _root = root };
        for (int c = 0; c < a.Length; c++)
            adjusted._displacements.Add((_displacements[c].Cause, [.. _displacements[c].Effect.Select((e, f) => e - (k * a[c] * effectOfObserved[f]))]));
        foreach ((TCause cause, double[] own) in _own)
            adjusted._own[cause] = [.. own];
        return adjusted;
    }

    private (double[] Mean, double[,] Root) EstimateAfter(double[] a, double k, double gain)
    {
        int n = a.Length;
        double[] mean = new double[n];
        double[,] root = new double[n, n];
        for (int i = 0; i < n; i++)
        {
            double along = 0;
            for (int j = 0; j < n; j++)
                along += Root(i, j) * a[j];
            mean[i] = (_mean?[i] ?? 0) + (along * gain);
            for (int c = 0; c < n; c++)
                root[i, c] = Root(i, c) - (k * along * a[c]);
        }

        return (mean, root);

        double Root(int i, int j) => _root?[i, j] ?? (i == j ? 1 : 0);
    }

    private double[] Sensitivity(IReadOnlyDictionary<int, double> weights) =>
        [.. _displacements.Select(d => weights.Sum(w => w.Value * d.Effect[w.Key]))];
}

/// <summary>Causes after observations, in units of their first standard deviations.</summary>
/// <param name="Mean">The best estimate of every displacement.</param>
/// <param name="Root">Square; its columns are the new displacements, each a standard deviation: the causes' covariance is Root Rootᵀ.</param>
public sealed record CauseEstimate(IReadOnlyList<double> Mean, double[,] Root);
