namespace DeflectScan.Calibration;

/// <summary>
/// Whether the cards of a photo lie in one plane: each in turn is let out of it (height and two tilts), and the drop of the sum of squares
/// is judged against chi-square. One card cannot tell.
/// </summary>
/// <param name="Disagree">Whether letting a card out explains the photo better than noise would.</param>
/// <param name="Outlier">The card that is out, where the others say which.</param>
/// <param name="Drop">The largest drop of the sum of squares, in noise variances.</param>
/// <param name="HeightMm">How far the best explanation puts that card from the plane, towards the camera.</param>
internal sealed record Coplanarity(bool Disagree, CardSighting? Outlier, double Drop, double HeightMm)
{
    /// <summary>One card explains the disagreement clearly better than any other when its drop is larger by this.</summary>
    private const double Clear = 10;

    public static Coplanarity Test(PlaneFit joint, LensPrior lens, CalibrationOptions options)
    {
        IReadOnlyList<CardSighting> cards = joint.Problem.Cards;
        if (cards.Count < 2)
            return new Coplanarity(false, null, 0, 0);
        double sd = Math.Max(options.LeastCornerSdPx, joint.Fit.SdPx);
        RobustFit[] loose = [.. cards.Select((_, c) => joint.Loosen(c, lens, options, sd))];
        double together = joint.Fit.Cost;
        double sure = Math.Max(options.LeastCornerSdPx, loose.Min(f => f.SdPx));
        if (sure < 0.97 * sd)
        {
            loose = [.. cards.Select((_, c) => joint.Loosen(c, lens, options, sure))];
            together = joint.WithNoise(lens, options, sure).Cost;
        }

        (double Drop, int Card, double HeightMm)[] drops =
            [.. loose.Select((f, c) => (together - f.Cost, c, f.X[joint.Problem.LooseAt])).OrderByDescending(t => t.Item1)];
        bool disagree = drops[0].Drop > options.OffPlaneChiSquare;
        bool known = disagree && cards.Count > 2 && drops[0].Drop - drops[1].Drop > Clear;
        return new Coplanarity(disagree, known ? cards[drops[0].Card] : null, drops[0].Drop, drops[0].HeightMm);
    }
}
