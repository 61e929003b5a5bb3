using System.Globalization;

namespace DeflectScan.Proving;

/// <summary>What a proof comes to, in sentences for a builder.</summary>
internal static class ProofWords
{
    public static IReadOnlyList<string> Of(ProofReport p) =>
    [
        p.Verdict switch
        {
            ProofVerdict.Agree => Text($"Photo and hand agree: {Counted(p.Readings.Count)} differ by no more than both state (chi-square {p.ChiSquare:0.0} for {p.Freedom}, p = {p.Probability:0.00}; largest E_n {p.LargestEn:0.0})."),
            ProofVerdict.TooRough when p.Readings.Count < ProofRule.LeastReadings => Text($"Too few readings to prove anything: take at least {ProofRule.LeastReadings}, better all that the sheet asks for."),
            ProofVerdict.TooRough => "These readings are too rough to prove anything: the photo could be wrong by three times what it states and still pass. Read with a finer tape or caliper, or three times each.",
            _ => Text($"Photo and hand contradict each other: chi-square {p.ChiSquare:0.0} for {Counted(p.Readings.Count)}, p = {Chance(p.Probability)}; largest E_n {p.LargestEn:0.0}."),
        },
        .. p.Verdict == ProofVerdict.Disagree && p.Causes.Count == 0
            ? (string[])["No single cause explains it: read once more what has the largest E_n, and look at those guides on the overlay."]
            : [],
        .. Doubt(p),
        .. Rough(p),
        .. p.Verdict == ProofVerdict.Agree ? (string[])[Text($"A print scale {p.ShowsScalePercent:0.00} % off would have shown.")] : [],
    ];

    private static IEnumerable<string> Doubt(ProofReport p)
    {
        if (p.Causes.Count > 0 && !p.IsSure)
            yield return Text($"A suspicion, no finding: with one of the causes below the readings are {p.CauseRatio:0.0} times as probable as by chance alone. Check the first before you rely on the figures.");
        string[] alike = [.. p.Alike.Select(c => Name(c.Cause))];
        if (alike.Length > 1)
            yield return $"These readings do not tell apart {string.Join(", ", alike[..^1])} and {alike[^1]}: do what stands under each, and put right only what you find there.";
    }

    private static string Name(ProofCause cause) => cause switch
    {
        ProofCause.PrintScale => "the cards' print",
        ProofCause.CardOff => "a card off the plane",
        ProofCause.TipPlace => "the tip's place",
        ProofCause.GuidePlace => "a guide's place",
        ProofCause.GuideCount => "the count of the guides",
        _ => "a slip of the pen",
    };

    private static IEnumerable<string> Rough(ProofReport p)
    {
        string[] rough = [.. p.Readings.Where(r => r.IsRough).Select(r => r.Reading.Name)];
        if (rough.Length > 0 && p.Verdict != ProofVerdict.TooRough)
            yield return $"Too rough to prove anything by themselves: {string.Join(", ", rough)}.";
    }

    private static string Chance(double p) => p < 0.001 ? "less than 0.001" : Text($"{p:0.000}");

    private static string Counted(int n) => n == 1 ? "1 reading" : Text($"{n} readings");

    private static string Text(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
