namespace DeflectScan.Layout.Spacing;

/// <summary>What is known of one interval against a limit.</summary>
internal enum EdgeFit
{
    /// <summary>Its cost is below the limit.</summary>
    Below,

    /// <summary>It is not; of longer ones nothing is said.</summary>
    NotBelow,

    /// <summary>It is not, nor is any longer interval from the same tipward node, except perhaps the one to the last node.</summary>
    NoLongerEither,
}

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
    public EdgeFit Test(int tipward, int buttward, double limit);
}
