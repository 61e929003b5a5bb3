using DeflectScan;
using DeflectScan.Proving;
using DeflectScan.Scenes.Proofs;

/// <summary>
/// What could be reached at all: a judge who knows each fault's size names the cause that the readings are likeliest with, every cause as likely as any other, and
/// none so readily that he names nothing in 95 % of proofs with nothing wrong. And the most that anyone reaches who has but one fault to tell from nothing, at the same 5 %.
/// </summary>
internal sealed class ProofBound
{
    private const double FalseAlarms = 0.05;

    private readonly double _least;
    private readonly Dictionary<ProofFault, double> _leastAlone;

    /// <param name="none">Proofs with nothing wrong, some hundreds.</param>
    public ProofBound(IEnumerable<(Measurement Photo, ProofReport Report)> none)
    {
        IReadOnlyDictionary<ProofFault, double>[] all = [.. none.Select(Ratios)];
        _least = Highest(all.Select(r => Causes(r).Max(c => c.Log)));
        _leastAlone = all[0].Keys.ToDictionary(f => f, f => Highest(all.Select(r => r[f])));
    }

    /// <summary>One line on a fault's proofs; null for a fault that the judge knows nothing of.</summary>
    public string? Says(ProofFault fault, IReadOnlyList<(Measurement Photo, ProofReport Report)> draws)
    {
        if (!_leastAlone.ContainsKey(fault))
            return null;
        IReadOnlyDictionary<ProofFault, double>[] all = [.. draws.Select(Ratios)];
        int named = all.Count(r => Causes(r).MaxBy(c => c.Log) is var best && best.Cause == SimulatedProof.Expected(fault) && best.Log > _least);
        return $"a judge who knows the sizes: {named} of {all.Length}; told from nothing wrong at best: {all.Count(r => r[fault] > _leastAlone[fault])}";
    }

    private static IReadOnlyDictionary<ProofFault, double> Ratios((Measurement Photo, ProofReport Report) d) => PerfectJudge.LogRatios(d.Photo, [.. d.Report.Readings.Select(r => r.Reading)]);

    private static IEnumerable<(ProofCause Cause, double Log)> Causes(IReadOnlyDictionary<ProofFault, double> ratios) =>
        ratios.GroupBy(r => SimulatedProof.Expected(r.Key)!.Value).Select(g => (g.Key, g.Max(r => r.Value) + Math.Log(g.Average(r => Math.Exp(r.Value - g.Max(x => x.Value))))));

    private static double Highest(IEnumerable<double> logs)
    {
        double[] ordered = [.. logs.Order()];
        return ordered[(int)(ordered.Length * (1 - FalseAlarms))];
    }
}
