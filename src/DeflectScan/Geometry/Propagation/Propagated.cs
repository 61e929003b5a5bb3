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

        Propagated<TCause> adjusted = new([.. Values.Select((v, f) => v + (effectOfObserved[f] * difference / variance))]);
        for (int c = 0; c < a.Length; c++)
            adjusted._displacements.Add((_displacements[c].Cause, [.. _displacements[c].Effect.Select((e, f) => e - (k * a[c] * effectOfObserved[f]))]));
        foreach ((TCause cause, double[] own) in _own)
            adjusted._own[cause] = [.. own];
        return adjusted;
    }

    private double[] Sensitivity(IReadOnlyDictionary<int, double> weights) =>
        [.. _displacements.Select(d => weights.Sum(w => w.Value * d.Effect[w.Key]))];
}
