namespace DeflectScan.Proving;

/// <summary>
/// Which one cause explains best what readings and photo contradict each other in, by the odds that the readings give it (Bayes factors; Kass and Raftery 1995,
/// from memory). Before the readings every cause is as likely as any other, and every way of a cause as any other way of it.
/// </summary>
internal static class CauseSearch
{
    /// <summary>
    /// Causes are named only where the readings are so many times as probable with one of them, whichever, as with none: "positive" evidence begins there in Kass
    /// and Raftery's scale. Where nothing is wrong the mean of that ratio is 1, so that it comes to 3 in less than a third of all proofs (Markov's
    /// inequality), and in 1 of 100 as simulated.
    /// </summary>
    public const double LeastRatio = 3;

    /// <summary>A cause less probable than this beside the others is not worth naming.</summary>
    private const double LeastShare = 0.02;

    /// <summary>The causes, likeliest first; none where nothing needs one.</summary>
    public static (IReadOnlyList<NamedCause> Causes, double LogRatio) Of(ReadingsModel model, PhotoFigures photo, IReadOnlyList<HandReading> readings)
    {
        (ProofCause Cause, Candidate Best, double LogEvidence)[] causes =
        [
            .. Ways(model, photo, readings).Where(w => w.Candidates.Count > 0)
                .Select(w => (w.Cause, w.Candidates.MaxBy(c => c.LogEvidence)!, LogSum(w.Candidates.Select(c => c.LogEvidence)))).OrderByDescending(c => c.Item3),
        ];
        if (causes.Length == 0)
            return ([], 0);
        double all = LogSum(causes.Select(c => c.LogEvidence));
        double ratio = all - Math.Log(causes.Length);
        NamedCause[] named = ratio < Math.Log(LeastRatio)
            ? []
            :
            [
                .. causes.Select(c => new NamedCause(
                    c.Cause, Math.Exp(c.LogEvidence - all), model.ChiSquare - c.Best.ChiSquareLeft, c.Best.Guide, c.Best.Card, c.Best.Says(), c.Best.Do())).Where((c, i) => i == 0 || c.Share >= LeastShare),
            ];
        return (named, ratio);
    }

    private static IEnumerable<(ProofCause Cause, IReadOnlyList<Candidate> Candidates)> Ways(ReadingsModel model, PhotoFigures photo, IReadOnlyList<HandReading> readings) =>
    [
        (ProofCause.PrintScale, [.. SharedCauses.PrintScale(model)]),
        (ProofCause.CardOff, [.. SharedCauses.CardOff(model, photo)]),
        (ProofCause.TipPlace, [.. SharedCauses.TipPlace(model, photo, readings)]),
        (ProofCause.GuidePlace, [.. SharedCauses.GuidePlace(model, photo, readings)]),
        (ProofCause.GuideCount, [.. CountCauses.Of(model, photo, readings)]),
        (ProofCause.SlipOfPen, [.. SlipCauses.Of(model, readings)]),
    ];

    private static double LogSum(IEnumerable<double> logs)
    {
        double[] all = [.. logs];
        double most = all.Max();
        return double.IsNegativeInfinity(most) ? most : most + Math.Log(all.Sum(l => Math.Exp(l - most)));
    }
}
