namespace DeflectScan;

/// <summary>
/// How the errors of a measurement's stations and gaps hang together: covariances of standard uncertainties (not expanded), mm². The figures, in order: the
/// station of every guide from the reel on, the tip-top not among them (it is where stations count from), then the gap of every pair.
/// </summary>
/// <param name="Mm2">Lower triangle, row by row: row i has i + 1 numbers.</param>
/// <param name="CardsOff">What a card that stands off the rod's plane does to the figures; empty where that was solved for or is not known.</param>
public sealed record FigureCovariance(IReadOnlyList<IReadOnlyList<double>> Mm2, IReadOnlyList<CardOffEffect> CardsOff)
{
    /// <summary>Of two figures, by their places in the order.</summary>
    public double Of(int a, int b) => a >= b ? Mm2[a][b] : Mm2[b][a];
}

/// <summary>What one millimetre of a card's standing off the rod's plane, towards the camera, does to each figure, mm per mm.</summary>
/// <param name="Letter">The card.</param>
/// <param name="PerMm">A number a figure, in the order of <see cref="FigureCovariance"/>.</param>
public sealed record CardOffEffect(char Letter, IReadOnlyList<double> PerMm);
