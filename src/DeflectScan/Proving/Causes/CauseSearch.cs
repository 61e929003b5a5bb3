namespace DeflectScan.Proving;

/// <summary>
/// Which one cause explains best what readings and photo contradict each other in, by the odds that the readings give it (Bayes factors; Kass and Raftery 1995,
/// from memory). Before the readings every cause is as likely as any other, and every way of a cause as any other way of it.
/// </summary>
internal static class CauseSearch
{
    /// <summary>A cause less probable than this beside the others is not worth naming.</summary>
    private const double LeastShare = 0.02;

    /// <summary>The causes, likeliest first; none where nothing needs one.</summary>
    public static (IReadOnlyList<NamedCause> Causes, double LogRatio) Of(ReadingsModel model, PhotoFigures photo, IReadOnlyList<HandReading> readings)
    {
        (ProofCause Cause, Candidate Best, double LogEvidence)[] causes =
        [
            .. Ways(model, photo, readings).Where(w => w.Candidates.Count > 0)
                .Select(w => (w.Cause, Best(w.Candidates), LogSum(w.Candidates.Select(c => c.LogEvidence)))).OrderByDescending(c => c.Item3),
        ];
        if (causes.Length == 0)
            return ([], 0);
        double all = LogSum(causes.Select(c => c.LogEvidence));
        double ratio = all - Math.Log(causes.Length);
        NamedCause[] named = ratio < -Math.Log(ProofReport.TellsApart)
            ? []
            :
            [
                .. causes.Select(c => new NamedCause(
                    c.Cause, Math.Exp(c.LogEvidence - all), model.ChiSquare - c.Best.ChiSquareLeft, c.Best.Guide, c.Best.Card, c.Best.Says(), c.Best.Do())).Where((c, i) => i == 0 || c.Share >= LeastShare),
            ];
        return (named, ratio);
    }

    // The likeliest card, guide or reading in its likeliest way; others that the readings do not tell from it are named with it.
    private static Candidate Best(IEnumerable<Candidate> candidates)
    {
        (string Which, double Log, Candidate Best)[] ways =
            [.. candidates.GroupBy(c => c.Which).Select(g => (g.Key, LogSum(g.Select(c => c.LogEvidence)), g.MaxBy(c => c.LogEvidence)!)).OrderByDescending(w => w.Item2)];
        string[] alike = [.. ways.Skip(1).Where(w => ways[0].Log - w.Log < Math.Log(ProofReport.TellsApart)).Select(w => w.Which)];
        return alike.Length == 0 ? ways[0].Best : ways[0].Best with { Says = () => $"{ways[0].Best.Says()} About as likely: {string.Join(", ", alike)}." };
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
