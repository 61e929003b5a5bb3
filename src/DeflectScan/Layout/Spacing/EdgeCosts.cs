namespace DeflectScan.Layout.Spacing;

/// <summary>What one interval between two nodes costs.</summary>
internal interface IEdgeCosts
{
    /// <summary>No layout's largest cost is below this.</summary>
    public double Least { get; }

    /// <summary>The interval's cost.</summary>
    /// <param name="tipward">Node nearer to the tip.</param>
    /// <param name="buttward">Node nearer to the butt, a larger index.</param>
    /// <param name="limit">Costs above this need not be exact, only above it.</param>
    /// <returns>The cost, and a floor under the cost of every longer interval from the same tipward node.</returns>
    public (double Cost, double Floor) Edge(int tipward, int buttward, double limit);
}
