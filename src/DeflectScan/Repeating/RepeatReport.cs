namespace DeflectScan.Repeating;

/// <summary>One figure over several photos of one set-up.</summary>
/// <param name="Name">"station", "height", "gap" or "bow".</param>
/// <param name="From">Guide, counted from the reel.</param>
/// <param name="To">The pair's other guide; null for a figure of one guide.</param>
/// <param name="ValueMm">Mean over the photos that are no outliers.</param>
/// <param name="UncertaintyMm">Expanded, 95 %: never less than one photo's, since cards and lens are the same in all.</param>
/// <param name="SpreadMm">Standard deviation over the photos; null where fewer than two show the figure.</param>
/// <param name="StatedMm">One photo's stated expanded uncertainty (root mean square).</param>
/// <param name="Photos">How many photos show it.</param>
public sealed record RepeatedFigure(string Name, int From, int? To, double ValueMm, double UncertaintyMm, double? SpreadMm, double StatedMm, int Photos);

/// <summary>One of the photos.</summary>
/// <param name="File">Its name.</param>
/// <param name="Status">Of its own measurement.</param>
/// <param name="Used">Whether it is in the means.</param>
/// <param name="Why">Why it is left out; empty where it is used.</param>
public sealed record RepeatedPhoto(string File, MeasurementStatus Status, bool Used, string Why);

/// <summary>Several photos of one set-up together.</summary>
/// <param name="Photos">In the order given.</param>
/// <param name="Figures">Stations and heights of the guides, then gaps and bows of the pairs.</param>
/// <param name="SpreadOverStated">Root mean square of the spreads over that of the stated standard uncertainties; null with fewer than two photos in use.</param>
/// <param name="Status">ok: all photos agree within what they state; needs_review: look at Notes; refused: fewer than two can be used.</param>
/// <param name="Notes">What was noticed, a sentence each.</param>
public sealed record RepeatReport(
    IReadOnlyList<RepeatedPhoto> Photos, IReadOnlyList<RepeatedFigure> Figures, double? SpreadOverStated, MeasurementStatus Status, IReadOnlyList<string> Notes)
{
    /// <summary>Index of the photo whose figures lie nearest to the means: the one to look at. Null where none is used.</summary>
    public int? Typical { get; init; }
}
