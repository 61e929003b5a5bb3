using DeflectScan;
using DeflectScan.Measuring;
using DeflectScan.Proving;
using DeflectScan.Scenes;
using DeflectScan.Scenes.Proofs;
using DeflectScan.Scenes.Rendering;

/// <summary>
/// Simulated proofs: how often E_n is above 1 where nothing is wrong, whether chi-square's probability is spread evenly, and whether what was put wrong is the
/// cause named first. Then, with scenes, proofs of their measurements against their exact truth.
/// </summary>
internal static class ProofCampaign
{
    private static readonly string[] TwoCards = ["casting-top", "clean-spinning", "clutter-bench", "thin-braid", "wall-shadow", "yaw12"];

    public static void Report(int count, int seed)
    {
        Measurement[] photos = [.. TwoCards.Select(p => MeasurePipeline.Measure(Repository.Photo(p), MeasureOptions.Default)).Where(m => m.Covariance is { CardsOff.Count: > 1 })];
        Console.WriteLine("measured photos against readings drawn from their exact truth, to 0.3 mm:");
        foreach ((string name, Measurement m) in TwoCards.Zip(photos))
        {
            ProofReport p = SimulatedProof.OfTruth(m, Repository.Truth(name), 0.3, seed);
            Console.WriteLine($"  {name}: E_n > 1 in {p.Readings.Count(r => r.En > 1)} of {p.Freedom}, chi-square {p.ChiSquare:0.0}, p {p.Probability:0.000}; {string.Join(", ", p.Causes.Select(c => $"{c.Cause} {c.Share:P0}"))}");
        }

        Console.WriteLine($"{photos.Length} photos of two cards, {string.Join(", ", photos.Select(p => p.Guides.Count - 1))} guides");
        foreach (double readingMm in (double[])[1, 0.3])
        {
            Console.WriteLine($"readings to {readingMm} mm (95 %)");
            (ProofReport Report, int Where, Measurement Photo)[] none = [.. Draws(photos, readingMm, ProofFault.None, 10 * count, seed)];
            Summary([.. none.Select(d => d.Report)]);
            ProofBound bound = new(none.Select(d => (d.Photo, d.Report)));
            foreach (ProofFault fault in Enum.GetValues<ProofFault>().Where(f => f != ProofFault.None))
                Faults(photos, readingMm, fault, count, seed, bound);
        }
    }

    /// <summary>Rendered scenes, measured, against readings drawn from their truth.</summary>
    public static void Scenes(int first, int count, double megapixels)
    {
        List<ProofReport> all = [];
        for (int seed = first; seed < first + count; seed++)
        {
            SceneOptions options = RandomScenes.Good(seed, seed * 7 % 11 / 10.0);
            double reduce = Math.Sqrt(megapixels * 1e6 / ((double)options.WidthPx * options.HeightPx));
            options = options with { WidthPx = 8 * (int)Math.Round(options.WidthPx * reduce / 8), HeightPx = 8 * (int)Math.Round(options.HeightPx * reduce / 8) };
            Scene scene = new(options);
            string file = Path.Combine(Path.GetTempPath(), $"deflectscan-proof-{Environment.ProcessId}.jpg");
            File.WriteAllBytes(file, scene.RenderJpeg());
            Measurement m = MeasurePipeline.Measure(file, MeasureOptions.Default);
            File.Delete(file);
            if (m.Status != MeasurementStatus.Ok || m.Guides.Count != scene.Truth.Guides.Count)
                continue;
            all.Add(SimulatedProof.OfTruth(m, scene.Truth, 0.3, seed));
            if (all[^1].Probability < 0.05)
                Console.WriteLine($"  {string.Join("; ", all[^1].Readings.OrderByDescending(r => r.En).Take(5).Select(r => $"{r.Reading.Name} {r.DifferenceMm:+0.00;-0.00} mm, E_n {r.En:0.0}"))}");
            Console.WriteLine($"{seed}: chi-square {all[^1].ChiSquare:0.0} for {all[^1].Freedom}, p {all[^1].Probability:0.000}, {string.Join(", ", all[^1].Causes.Take(2).Select(c => $"{c.Cause} {c.Share:P0}"))}");
        }

        Summary([.. all]);
        StatedOverFound stated = StatedOverFound.Of(all.Sum(p => p.ChiSquare), all.Sum(p => p.Freedom));
        Console.WriteLine($"  stated over found {stated.Ratio:0.00}, 95 %: {stated.Low:0.00} to {stated.High:0.00}: {stated.Says}; probabilities in fifths from 0: {string.Join(", ", Enumerable.Range(0, 5).Select(k => all.Count(p => (int)Math.Min(4, 5 * p.Probability) == k)))}");
    }

    private static void Summary(ProofReport[] none)
    {
        int readings = none.Sum(r => r.Readings.Count);
        int above = none.Sum(r => r.Readings.Count(x => x.En > 1));
        double[] ratios = [.. none.Select(r => Math.Log(r.CauseRatio)).Order()];
        Console.WriteLine($"  ln of the ratio with a cause over none: 50 % {ratios[ratios.Length / 2]:0.00}, 90 % {ratios[ratios.Length * 9 / 10]:0.00}, 95 % {ratios[ratios.Length * 19 / 20]:0.00}, 97.5 % {ratios[ratios.Length * 39 / 40]:0.00}, most {ratios[^1]:0.00}");
        Console.WriteLine(
            $"  nothing wrong, {none.Length} proofs: E_n > 1 in {above} of {readings} readings ({100.0 * above / readings:0.0} %); Kolmogorov-Smirnov p = {Uniformity.Probability(none.Select(r => r.Probability)):0.000}; "
            + $"no cause named in {100.0 * none.Count(r => r.Causes.Count == 0) / none.Length:0.0} %, none named as more than a suspicion in {100.0 * none.Count(r => !r.IsSure) / none.Length:0.0} %; p < 0.05 in {100.0 * none.Count(r => r.Probability < 0.05) / none.Length:0.0} %");
    }

    private static void Faults(Measurement[] photos, double readingMm, ProofFault fault, int count, int seed, ProofBound bound)
    {
        (ProofReport Report, int Where, Measurement Photo)[] draws = [.. Draws(photos, readingMm, fault, count, seed)];
        int named = draws.Count(d => d.Report.Causes is [{ } c, ..] && c.Cause == SimulatedProof.Expected(fault));
        int rightCard = draws.Count(d => fault == ProofFault.CardOff && d.Report.Causes is [{ } c, ..] && c.Card == d.Photo.Covariance!.CardsOff[d.Where].Letter);
        string others = string.Join(", ", draws.Select(d => d.Report.Causes is [{ } c, ..] ? $"{c.Cause}" : "none").Where(c => c != $"{SimulatedProof.Expected(fault)}").GroupBy(c => c).Select(g => $"{g.Key} {g.Count()}"));
        int sure = draws.Count(d => d.Report.IsSure && d.Report.Causes[0].Cause == SimulatedProof.Expected(fault));
        int alike = draws.Count(d => d.Report.Alike.Any(c => c.Cause == SimulatedProof.Expected(fault)));
        Console.WriteLine($"  {fault}: named first in {named} of {count} (in {sure} as more than a suspicion; first or said to explain alike: {alike}){(fault == ProofFault.CardOff ? $", the right card in {rightCard}" : "")}{(others.Length > 0 ? $"; instead: {others}" : "")}");
        if (bound.Says(fault, [.. draws.Select(d => (d.Photo, d.Report))]) is { } most)
            Console.WriteLine($"    {most}");
        if (fault != ProofFault.CardOff)
            return;
        foreach (IGrouping<string, (ProofReport Report, int Where, Measurement Photo)> group in draws.GroupBy(d => Moves(d.Photo, d.Where)).OrderBy(g => g.Key))
            Console.WriteLine($"    {group.Key}: named first in {group.Count(d => d.Report.Causes is [{ Cause: ProofCause.CardOff }, ..])} of {group.Count()}");
    }

    // What 12 mm of a card do to the figure that they move most, over that figure's stated uncertainty.
    private static string Moves(Measurement photo, int card)
    {
        FigureCovariance c = photo.Covariance!;
        double most = Enumerable.Range(0, c.Mm2.Count).Max(i => Math.Abs(12 * c.CardsOff[card].PerMm[i]) / (2 * Math.Sqrt(c.Of(i, i))));
        return most < 1 ? "it moves no figure beyond its stated uncertainty" : most < 2 ? "it moves one by 1 to 2 times its stated uncertainty" : "it moves one by more than twice its stated uncertainty";
    }

    private static IEnumerable<(ProofReport Report, int Where, Measurement Photo)> Draws(Measurement[] photos, double readingMm, ProofFault fault, int count, int seed)
    {
        for (int i = 0; i < count; i++)
        {
            Measurement photo = photos[i % photos.Length];
            (ProofReport report, int where) = SimulatedProof.Draw(photo, readingMm, fault, (1000 * seed) + i);
            yield return (report, where, photo);
        }
    }
}
