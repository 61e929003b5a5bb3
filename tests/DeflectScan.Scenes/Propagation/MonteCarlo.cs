namespace DeflectScan.Scenes.Propagation;

/// <summary>Draws of one figure, sorted, and what they say (JCGM 101:2008, 7).</summary>
public sealed class DrawnFigure
{
    private readonly double[] _sorted;

    internal DrawnFigure(double[] draws)
    {
        Mean = draws.Average();
        Sd = Math.Sqrt(draws.Sum(d => (d - Mean) * (d - Mean)) / (draws.Length - 1));
        _sorted = [.. draws.Order()];
    }

    public double Mean { get; }

    public double Sd { get; }

    /// <summary>The probabilistically symmetric coverage interval (7.7.2).</summary>
    public (double Low, double High) Symmetric(double probability = 0.95)
    {
        int q = Covered(probability);
        int r = (_sorted.Length - q) / 2;
        return (_sorted[r], _sorted[r + q]);
    }

    /// <summary>The shortest coverage interval (7.7.4).</summary>
    public (double Low, double High) Shortest(double probability = 0.95)
    {
        int q = Covered(probability);
        int best = 0;
        for (int r = 1; r + q < _sorted.Length; r++)
        {
            if (_sorted[r + q] - _sorted[r] < _sorted[best + q] - _sorted[best])
                best = r;
        }

        return (_sorted[best], _sorted[best + q]);
    }

    private int Covered(double probability) => Math.Min(_sorted.Length - 1, (int)((probability * _sorted.Length) + 0.5));
}

/// <summary>Propagation of distributions by drawing (JCGM 101:2008). The same seed gives the same draws.</summary>
public sealed class MonteCarlo(int seed)
{
    private readonly Random _random = new(seed);

    public double Normal(double mean = 0, double sd = 1) =>
        mean + (sd * Math.Sqrt(-2 * Math.Log(1 - _random.NextDouble())) * Math.Cos(2 * Math.PI * _random.NextDouble()));

    /// <summary>Rectangular between two limits.</summary>
    public double Rectangular(double low, double high) => low + ((high - low) * _random.NextDouble());

    /// <summary>Correlated normal inputs from a root of their covariance (6.4.8).</summary>
    public double[] Normals(IReadOnlyList<double> means, double[,] root)
    {
        double[] z = [.. means.Select(_ => Normal())];
        return [.. means.Select((m, i) => m + Enumerable.Range(0, i + 1).Sum(k => root[i, k] * z[k]))];
    }

    /// <summary>Draws all figures many times.</summary>
    /// <param name="draw">Figures of one draw, made with this object's distributions.</param>
    /// <param name="count">How many draws.</param>
    public IReadOnlyList<DrawnFigure> Draw(Func<MonteCarlo, double[]> draw, int count)
    {
        double[][] draws = [.. Enumerable.Range(0, count).Select(_ => draw(this))];
        return [.. Enumerable.Range(0, draws[0].Length).Select(f => new DrawnFigure([.. draws.Select(d => d[f])]))];
    }
}
