namespace DeflectScan.Layout.Spacing;

/// <summary>What one interval between two nodes costs.</summary>
internal interface IEdgeCosts
{
    /// <summary>No layout's largest cost is below this.</summary>
    public double Least { get; }

    /// <summary>The interval's cost.</summary>
    /// <param name="tipward">Node nearer to the tip.</param>
    /// <param name="buttward">Node nearer to the butt, a larger index.</param>
    public double Cost(int tipward, int buttward);

    /// <summary>Whether the interval's cost is below a limit: the same answer as from <see cref="Cost"/>, mostly without computing it.</summary>
    /// <returns>
    /// <paramref name="buttward"/> when it is; else a node beyond, before which no interval from <paramref name="tipward"/> is below the limit either (the last
    /// node at most, of which nothing is said; one more when that was asked for).
    /// </returns>
    public int Test(int tipward, int buttward, double limit);
}
