using DeflectScan.Calibration.Cards;

namespace DeflectScan.Calibration;

/// <summary>
/// Whether the cards of a photo lie in one plane. Each in turn is let out of it freely (height and two leans), and the drop of the sum of
/// squares is judged against chi-square. Where that shows the cards apart, all are let out as far as cards set up by hand may be
/// expected to stand off: if that explains the photo, its covariance says what the figures are worth; if not, a person has to look.
/// One card cannot tell.
/// </summary>
/// <param name="Verdict">What the cards say of each other.</param>
/// <param name="Card">The card that is out, where three or more tell which; else null.</param>
/// <param name="Drop">The largest drop of the sum of squares, in noise variances.</param>
/// <param name="HeightMm">How far the best explanation puts a card from the plane.</param>
/// <param name="LeanDeg">How far it turns one out of the plane.</param>
/// <param name="ByHand">The fit with every card a little off; null while the cards are together.</param>
/// <param name="Readings">The other readings, shares of which enter the uncertainty: each card in turn wrong and the rest right. A photo hardly tells them apart, and they scale it differently.</param>
internal sealed record Coplanarity(
    Coplanarity.Kind Verdict, CardSighting? Card, double Drop, double HeightMm, double LeanDeg, PlaneFit? ByHand, IReadOnlyList<PlaneFit> Readings)
{
    /// <summary>One card explains the disagreement clearly better than any other when its drop is larger by this.</summary>
    private const double Clear = 10;

    public enum Kind
    {
        /// <summary>One plane, as far as the corners' noise lets one see (a single card always).</summary>
        Together,

        /// <summary>Seen to be out, by no more than cards set up by hand may be.</summary>
        Slightly,

        /// <summary>Out by more than that.</summary>
        Apart,
    }

    public static Coplanarity Test(PlaneFit joint, LensPrior lens, CalibrationOptions options)
    {
        IReadOnlyList<CardSighting> cards = joint.Problem.Cards;
        if (cards.Count < 2)
            return new Coplanarity(Kind.Together, null, 0, 0, 0, null, []);
        double sd = Math.Max(options.LeastCornerSdPx, joint.Fit.SdPx);
        double together = joint.Fit.Cost;
        PlaneFit[] loose = Each(sd);
        double sure = Math.Max(options.LeastCornerSdPx, loose.Min(f => f.Fit.SdPx));
        if (sure < 0.97 * sd)
        {
            loose = Each(sure);
            together = joint.Loosen(_ => CardTolerance.Stated(options), lens, sure).Fit.Cost;
        }

        (double Drop, int Card)[] drops = [.. loose.Select((f, c) => (together - f.Fit.Cost, c)).OrderByDescending(t => t.Item1)];
        (double drop, int card) = drops[0];
        (double height, double lean) = loose[card].Stand(card);
        if (drop <= options.OffPlaneChiSquare)
            return new Coplanarity(Kind.Together, null, drop, height, lean, null, []);

        PlaneFit byHand = joint.Loosen(_ => CardTolerance.ByHand(options), lens, sure);
        double strain = Enumerable.Range(0, cards.Count).Sum(c => byHand.Strain(c, CardTolerance.ByHand(options)));
        Kind verdict = strain <= options.ByHandStrain ? Kind.Slightly : Kind.Apart;
        bool known = verdict == Kind.Apart && cards.Count > 2 && drop - drops[1].Drop > Clear;
        if (!known)
        {
            height = cards.Max(c => Math.Abs(byHand.Stand(IndexOf(c)).HeightMm));
            lean = cards.Max(c => byHand.Stand(IndexOf(c)).LeanDeg);
        }

        PlaneFit[] readings = [.. cards.Select((_, one) => Reading(one))];
        return new Coplanarity(verdict, known ? cards[card] : null, drop, Math.Abs(height), lean, byHand, readings);

        PlaneFit[] Each(double noisePx) =>
            [.. cards.Select((_, one) => joint.Loosen(c => c == one ? CardTolerance.Free : CardTolerance.Stated(options), lens, noisePx))];

        // One card wrong by its height alone, the others right; all readings together count as one cause.
        PlaneFit Reading(int one)
        {
            PlaneFit read = joint.Loosen(c => c == one ? new CardTolerance(1000, 0.02) : new CardTolerance(0.05, 0.02), lens, sure);
            double share = 1 / Math.Sqrt(cards.Count);
            return read with { Fit = read.Fit with { X = [.. byHand.Fit.X.Zip(read.Fit.X, (middle, x) => middle + ((x - middle) * share))] } };
        }

        int IndexOf(CardSighting c) => Enumerable.Range(0, cards.Count).First(i => ReferenceEquals(cards[i], c));
    }
}
