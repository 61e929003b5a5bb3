using DeflectScan.Teaching;

namespace DeflectScan.Reporting.Boards;

/// <summary>One scale for all strips of a board: stations true, heights above the blank and bows below it each so many times as tall.</summary>
/// <param name="PerMm">Units of one mm along the blank.</param>
/// <param name="HeightTimes">How many times taller heights are drawn than lengths.</param>
/// <param name="BowTimes">The same of the bows.</param>
/// <param name="LengthMm">The longest blank.</param>
/// <param name="AboveUnits">What is left above the blank.</param>
internal sealed record StripScale(double PerMm, double HeightTimes, double BowTimes, double LengthMm, double AboveUnits)
{
    private static readonly double[] Round = [0.25, 0.5, 0.75, 1, 1.25, 1.5, 2, 2.5, 3, 4, 5, 6, 8, 10];

    /// <summary>More would make a small bow look like a large one.</summary>
    private const double MostTimes = 6;

    /// <summary>Share of a row's height that the line over the running guides and their bows may take, above the blank and below it.</summary>
    private const double Share = 0.5;

    /// <summary>The same of the high rings near the reel: over them no bow of the row above is drawn.</summary>
    private const double ShareOfHighRings = 0.92;

    public static StripScale Of(ClassReport report, double width, double rowHeight)
    {
        double perMm = width / report.LongestMm;
        double heights = Times(rowHeight / perMm * Math.Min(Share / report.TallestRunningMm, ShareOfHighRings / report.TallestMm));
        double bows = Times(rowHeight * Share / (report.DeepestMm * perMm));
        return new StripScale(perMm, heights, bows, report.LongestMm, rowHeight - (report.DeepestMm * perMm * bows));
    }

    public string Words => $"Stations to one scale, from the tip on the right. Above the blank: line and rings, {HeightTimes:0.##} times as tall; below it: bows of the running pairs, {BowTimes:0.##} times.";

    private static double Times(double fits) => Round.LastOrDefault(r => r <= Math.Min(fits, MostTimes), Round[0]);
}
