namespace DeflectScan.Layout.Suggesting;

/// <summary>
/// Which guides are reduction guides and which pairs are therefore running pairs, and which of these follows the bend worst: one rule for every output.
/// <para>
/// The first three guides from the reel are reduction guides inside the bend (spinning: their rings stand high on purpose, to gather the coils), the first
/// one outside (casting); common practice, no source; a person says otherwise with how many are to be held. Running pairs are those from the last reduction
/// guide to the tip-top.
/// </para>
/// <para>
/// Inside the bend the pair with the largest bow follows worst: bow judges the spacing, whatever the rings' heights. Outside it is the pair with the least
/// clearance: there a taut line falls towards the blank.
/// </para>
/// </summary>
public static class RunningPairs
{
    /// <summary>How many guides from the reel are reduction guides.</summary>
    /// <param name="side">Side of the bend that the guides stand on.</param>
    /// <param name="rings">Rings of the layout, the tip-top's among them; at least two.</param>
    /// <param name="told">What a person says; null: the usual number.</param>
    /// <returns>At least one, and one less than the rings at most.</returns>
    public static int Reduction(GuideSide side, int rings, int? told = null) => Math.Clamp(told ?? SuggestionOptions.DefaultHeld(side), 1, rings - 1);

    /// <summary>Index of the running pair that follows worst.</summary>
    /// <param name="pairs">All pairs from the reel to the tip-top.</param>
    /// <param name="side">Side of the bend that the guides stand on.</param>
    /// <param name="reduction">As <see cref="Reduction"/> says.</param>
    /// <param name="bowMm">A pair's bow.</param>
    /// <param name="clearanceMm">A pair's clearance.</param>
    public static int Worst<T>(IReadOnlyList<T> pairs, GuideSide side, int reduction, Func<T, double> bowMm, Func<T, double> clearanceMm)
    {
        int worst = Math.Min(reduction, pairs.Count) - 1;
        for (int i = worst + 1; i < pairs.Count; i++)
        {
            bool worse = side == GuideSide.Inside ? bowMm(pairs[i]) > bowMm(pairs[worst]) : clearanceMm(pairs[i]) < clearanceMm(pairs[worst]);
            worst = worse ? i : worst;
        }

        return worst;
    }
}
