using System.Diagnostics;
using DeflectScan;
using DeflectScan.Measuring;
using DeflectScan.Records.Comparing;
using DeflectScan.Scenes;
using DeflectScan.Scenes.Rendering;

/// <summary>
/// Three photos of each rendered scene from one stand: two in which nothing moved but the noise, and a third with one guide slid. How often the difference of
/// two photos lies within what is stated of it, and how much surer it is than one photo.
/// </summary>
internal static class SeriesPairs
{
    private const double SlidMm = 12;

    public static void Report(int first, int count, double megapixels)
    {
        Covered gaps = new("gap, nothing moved"), bows = new("bow, nothing moved"), stations = new("station, nothing moved");
        Covered slid = new("the slid guide against its truth"), slidGaps = new("its gaps' change against the truth"), slidBows = new("its bows' change against the truth");
        int falseMoves = 0, missed = 0, rodMoved = 0, pairs = 0;
        for (int seed = first; seed < first + count; seed++)
        {
            Stopwatch watch = Stopwatch.StartNew();
            SceneOptions scene = Sized(RandomScenes.Good(seed, seed * 7 % 11 / 10.0), megapixels);
            int guide = 2 + (seed % (scene.Guides - 1));
            Measurement a = Measured(scene with { NoiseSeed = 1 }, out Truth truth);
            Measurement b = Measured(scene with { NoiseSeed = 2 }, out _);
            Measurement c = Measured(scene with { NoiseSeed = 3, Moved = (guide, SlidMm) }, out Truth slidTruth);
            Console.WriteLine($"{seed}: {a.Status} {b.Status} {c.Status}, {a.Guides.Count} {b.Guides.Count} {c.Guides.Count} rings of {scene.Guides + 1}, {watch.Elapsed.TotalSeconds:0} s");
            if (a.Status != MeasurementStatus.Ok || b.Status != MeasurementStatus.Ok || a.Guides.Count != b.Guides.Count)
                continue;
            pairs++;
            Comparison still = Comparison.Of(a, b);
            if (still.Stand is not { } stand)
                throw new InvalidOperationException($"{seed}: two photos of one scene are not taken for one stand.");
            rodMoved += stand.RodMoved ? 1 : 0;
            falseMoves += still.Guides.Count(g => g.HasMoved);
            foreach (PairMatch pair in still.Pairs.Where(p => p is { Gap: not null, Bow: not null }))
            {
                gaps.Add(pair.Gap!.ByMm, pair.Gap.UncertaintyMm, pair.Before!.Gap.UncertaintyMm);
                bows.Add(pair.Bow!.ByMm, pair.Bow.UncertaintyMm, pair.Before!.Bow.UncertaintyMm);
            }

            foreach (GuideMatch g in still.Guides.Where(g => g.MovedMm is not null))
                stations.Add(g.MovedMm!.Value, g.UncertaintyMm!.Value, a.Guides[g.Before!.Value - 1].Station.UncertaintyMm);
            if (c.Status != MeasurementStatus.Ok || c.Guides.Count != a.Guides.Count)
                continue;
            Comparison step = Comparison.Of(a, c);
            if (step.Guides.FirstOrDefault(g => g.Before == guide) is not { MovedMm: { } moved } match)
                continue;
            missed += match.HasMoved ? 0 : 1;
            slid.Add(moved - (Station(slidTruth, guide) - Station(truth, guide)), match.UncertaintyMm!.Value, a.Guides[guide - 1].Station.UncertaintyMm);
            foreach (PairMatch pair in step.Pairs.Where(p => p is { Gap: not null, Bow: not null } && (p.Before!.From == guide || p.Before.To == guide)))
            {
                int i = pair.Before!.From; // the first of the truth is from the reel
                slidGaps.Add(pair.Gap!.ByMm - (slidTruth.Intervals[i].GapMm - truth.Intervals[i].GapMm), pair.Gap.UncertaintyMm, pair.Before.Gap.UncertaintyMm);
                slidBows.Add(pair.Bow!.ByMm - (slidTruth.Intervals[i].BowMm - truth.Intervals[i].BowMm), pair.Bow.UncertaintyMm, pair.Before.Bow.UncertaintyMm);
            }
        }

        Console.WriteLine($"{pairs} pairs in which nothing moved; of their guides {falseMoves} said to have moved, of the rods {rodMoved}; of the slid guides {missed} missed");
        foreach (Covered figure in (Covered[])[gaps, bows, stations, slid, slidGaps, slidBows])
            Console.WriteLine(figure);
    }

    private static double Station(Truth truth, int guide) => truth.Guides[guide - 1].FromTipMm;

    private static SceneOptions Sized(SceneOptions scene, double megapixels)
    {
        double by = Math.Sqrt(megapixels * 1e6 / ((double)scene.WidthPx * scene.HeightPx));
        return scene with { WidthPx = 8 * (int)Math.Round(scene.WidthPx * by / 8), HeightPx = 8 * (int)Math.Round(scene.HeightPx * by / 8) };
    }

    private static Measurement Measured(SceneOptions options, out Truth truth)
    {
        Scene scene = new(options);
        truth = scene.Truth;
        string path = Path.Combine(Path.GetTempPath(), $"series-{Path.GetRandomFileName()}.jpg");
        try
        {
            File.WriteAllBytes(path, scene.RenderJpeg());
            return MeasurePipeline.Measure(path, MeasureOptions.Default);
        }
        finally
        {
            File.Delete(path);
        }
    }

    /// <summary>Differences from what is true, against what is stated.</summary>
    private sealed class Covered(string name)
    {
        private readonly List<(double Off, double Stated, double One)> _all = [];

        public void Add(double off, double stated, double one) => _all.Add((Math.Abs(off), stated, one));

        public override string ToString()
        {
            if (_all.Count == 0)
                return $"{name}: none";
            double[] ratio = [.. _all.Select(a => a.Stated / a.One).Order()];
            return $"{name}: {_all.Count(a => a.Off <= a.Stated)} of {_all.Count} ({100.0 * _all.Count(a => a.Off <= a.Stated) / _all.Count:0.0} %) inside; median off {_all.Select(a => a.Off).Order().ElementAt(_all.Count / 2):0.000} mm, "
                + $"stated over one photo's: median {ratio[ratio.Length / 2]:0.00}, most {ratio[^1]:0.00}, at most half {100.0 * ratio.Count(r => r <= 0.5) / ratio.Length:0} %; "
                + $"off over stated: 95 % within {_all.Select(a => a.Off / a.Stated).Order().ElementAt((int)(0.95 * (_all.Count - 1))):0.00}, 98 % {_all.Select(a => a.Off / a.Stated).Order().ElementAt((int)(0.98 * (_all.Count - 1))):0.00}";
        }
    }
}
