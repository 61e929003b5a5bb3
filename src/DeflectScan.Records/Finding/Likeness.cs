using DeflectScan.Records.Model;

namespace DeflectScan.Records.Finding;

/// <summary>
/// How like a build is to what is looked for: the mean over what was asked for, each from 0 to 1. A measure counts exp(-(d/scale)²), d the
/// difference; an unknown value counts a little more than one that is known to be far off. The scales are our own judgement.
/// </summary>
internal sealed class Likeness
{
    /// <summary>Share of the length at which likeness has fallen to 0.37: 10 %, about 20 cm of a 2 m rod.</summary>
    private const double LengthScale = 0.10;

    /// <summary>Degrees of tip turn at which likeness has fallen to 0.37.</summary>
    private const double TurnScaleDeg = 12;

    /// <summary>Reel classes count by their ratio: a factor of 1.5 has likeness 0.37.</summary>
    private const double ReelRatio = 1.5;

    private const double Unknown = 0.15;

    private readonly List<Func<BuildSummary, (double Score, Func<string> Reason)>> _aspects = [];

    public Likeness(FindQuery query)
    {
        if (query.BlankLengthMm is { } length)
            _aspects.Add(b => Length(length, b.BlankLengthMm));
        if (query.TipTurnDeg is { } turn)
            _aspects.Add(b => Turn(turn, b.TipTurnDeg));
        if (query.ReelClass is { } reel)
            _aspects.Add(b => Reel(reel, b.ReelClass));
        if (query.Line is { } line)
            _aspects.Add(Shared("line", WordsOf(line), b => b.Line));
        if (query.Side is { } side)
            _aspects.Add(b => b.Side is null ? (Unknown, () => "side not known") : b.Side == side ? (1, () => "same side") : (0, () => "other side"));
        if (query.Use is { } use)
            _aspects.Add(Shared("use", WordsOf(use), b => b.Use));
    }

    public double Of(BuildSummary build)
    {
        if (_aspects.Count == 0)
            return 1;
        double sum = 0;
        foreach (Func<BuildSummary, (double Score, Func<string> Reason)> aspect in _aspects)
            sum += aspect(build).Score;
        return sum / _aspects.Count;
    }

    public string Reason(BuildSummary build) => string.Join("; ", _aspects.Select(a => a(build).Reason()));

    private static (double, Func<string>) Length(double wanted, double? mm)
    {
        if (mm is not { } there)
            return (Unknown, () => "length not known");
        double by = there - wanted;
        return (Near(by / wanted / LengthScale), () => Math.Abs(by) < 0.5 ? "same length" : $"length {there:0} mm, {Math.Abs(by):0} mm {(by > 0 ? "longer" : "shorter")}");
    }

    private static (double, Func<string>) Turn(double wanted, double? degrees)
    {
        if (degrees is not { } there)
            return (Unknown, () => "tip turn not measured");
        double by = there - wanted;
        return (Near(by / TurnScaleDeg), () => Math.Abs(by) < 0.5 ? "same tip turn" : $"tip turns {there:0}°, {Math.Abs(by):0}° {(by > 0 ? "more" : "less")}");
    }

    private static (double, Func<string>) Reel(int wanted, int? reel)
    {
        if (reel is not { } there)
            return (Unknown, () => "reel class not known");
        return (Near(Math.Log((double)there / wanted) / Math.Log(ReelRatio)), () => there == wanted ? "same reel class" : $"reel class {there}");
    }

    private static double Near(double inScales) => Math.Exp(-inScales * inScales);

    /// <summary>Share of the wanted words that a text has; texts that were seen before are not taken apart again.</summary>
    private static Func<BuildSummary, (double, Func<string>)> Shared(string what, HashSet<string> wanted, Func<BuildSummary, string?> of)
    {
        const int MostKept = 1000;
        Dictionary<string, double> known = [];
        return build =>
        {
            if (of(build) is not { } text)
                return (Unknown, () => $"{what} not known");
            if (!known.TryGetValue(text, out double score))
            {
                HashSet<string> there = WordsOf(text);
                score = wanted.Count == 0 ? 0 : (double)wanted.Count(there.Contains) / wanted.Count;
                if (known.Count < MostKept)
                    known[text] = score;
            }

            return (score, () => Words(what, wanted, WordsOf(text)));
        };
    }

    private static string Words(string what, HashSet<string> wanted, HashSet<string> there)
    {
        string[] both = [.. wanted.Where(there.Contains)];
        return both.Length == 0 ? $"other {what}" : both.Length == there.Count && both.Length == wanted.Count ? $"same {what}" : $"{what}: {string.Join(' ', both)}";
    }

    private static HashSet<string> WordsOf(string text) =>
        [.. text.Split([' ', ',', ';', '/', '\t', '\n'], StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries).Select(w => w.ToLowerInvariant())];
}
