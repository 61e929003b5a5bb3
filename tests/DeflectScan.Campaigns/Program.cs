using System.Diagnostics;
using DeflectScan.Bending;
using DeflectScan.Geometry;
using DeflectScan.Mechanics;
using DeflectScan.Mechanics.Stiffness;
using DeflectScan.Scenes;
using DeflectScan.Scenes.Rods;

// series [first seed] [scenes] [megapixels]: photos from one stand, held against each other.
if (args is ["series", ..])
{
    SeriesPairs.Report(args.Length > 1 ? int.Parse(args[1]) : 1, args.Length > 2 ? int.Parse(args[2]) : 30, args.Length > 3 ? double.Parse(args[3], System.Globalization.CultureInfo.InvariantCulture) : 12);
    return;
}

// proof [count] [seed]: simulated proofs on a real rod, with and without something wrong. proof-scenes [first seed] [scenes] [megapixels]: against exact truth.
if (args is ["proof", ..])
{
    ProofCampaign.Report(args.Length > 1 ? int.Parse(args[1]) : 100, args.Length > 2 ? int.Parse(args[2]) : 1);
    return;
}

if (args is ["proof-scenes", ..])
{
    ProofCampaign.Scenes(args.Length > 1 ? int.Parse(args[1]) : 1, args.Length > 2 ? int.Parse(args[2]) : 30, args.Length > 3 ? double.Parse(args[3], System.Globalization.CultureInfo.InvariantCulture) : 12);
    return;
}

// Arguments: how many draws, part of a study's name, the first seed; --each prints every draw.
int seeds = args.Length > 0 ? int.Parse(args[0]) : 20;
string only = args.Length > 1 ? args[1] : "";
int first = args.Length > 2 && int.TryParse(args[2], out int given) ? given : 1;
(string Name, StudySetup Setup)[] studies =
[
    ("the bars' case: rest photo of the same set-up, the clamp taken to give as the command line takes it", new StudySetup { SameClampSdDeg = 0, ToldClampSdDeg = BlankSource.ClampGivesDeg }),
    ("the same, and the clamp gives that much", new StudySetup { SameClampSdDeg = BlankSource.ClampGivesDeg }),
    ("rest photo, but the clamp may have moved", new StudySetup()),
    ("rest curve known exactly, but not its clamp angle", new StudySetup { SetPerM = 0, GiveRest = false, RestIsStraight = true }),
    ("clamp may have moved, no ferrule: the smoothest blanks bound what can be known", new StudySetup { WithFerrule = false }),
    ("noise-free, no ferrule", new StudySetup { NoiseMm = 1e-4, StatedNoiseMm = 0.01, WithFerrule = false, CordSdDeg = 0.001 }),
    ("weight left out", new StudySetup { GiveWeight = false }),
    ("rest curve left out", new StudySetup { GiveRest = false }),
    ("both left out", new StudySetup { GiveWeight = false, GiveRest = false }),
    ("neither there nor given", new StudySetup { GiveWeight = false, GiveRest = false, WeightN = 0, SetPerM = 0 }),
    ("errors shared over 50 mm", new StudySetup { NoiseMm = 0.1, CorrelatedMm = 0.5 }),
    ("photos at 0.5 and 1", new StudySetup { Photos = [1, 0.5] }),
];
foreach ((string name, StudySetup setup) in studies.Where(s => s.Name.Contains(only, StringComparison.Ordinal)))
    Report(name, [.. Enumerable.Range(first, seeds).Select(seed => SyntheticStudy.Draw(seed, setup))]);
if (only.Length == 0 || only == "loads")
{
    ThreeLoads(0.1);
    ThreeLoads(0.3);
}

if (only.Length == 0 || only == "time")
    TimeForward();
if (only.Length == 0 || only == "spacing")
    SpacingTimes.Report(Math.Min(seeds, 20));

static void ThreeLoads(double noiseMm)
{
    string[] names = ["light", "mid", "deep"];
    foreach (string from in names)
    {
        Truth truth = ThreeLoadsOf.Load(from);
        StiffnessEstimate e = StiffnessEstimator.Estimate([ThreeLoadsOf.Measured(truth, 1, noiseMm)]).Value!;
        Console.WriteLine($"{from}: ln weight {e.LogRoughnessWeight:0.0}, own weight {e.WeightOverLoad.Share:0.000} ± {e.WeightOverLoad.Sd:0.000}, natural curvature {1000 * e.NaturalCurvaturePerMm(100):0.0000} {1000 * e.NaturalCurvaturePerMm(1500):0.0000} 1/m, rms {e.Photos[0].RmsMm:0.000}");
        foreach (string to in names.Where(n => n != from))
        {
            Truth there = ThreeLoadsOf.Load(to);
            PredictedBend p = BendPredictor.AtFactor(e, there.Blank.ForceRelative / truth.Blank.ForceRelative).Value!;
            ArcCurve axis = ThreeLoadsOf.Axis(there);
            List<double> off = [.. p.Bend.PointsMm.Select(x => Math.Abs(axis.Nearest(x).Offset))];
            RodFigures layout = ThreeLoadsOf.Layout(there);
            IEnumerable<double> gaps = layout.Gaps(axis).Zip(layout.Gaps(p.Curve), (a, b) => Math.Abs(a - b));
            IEnumerable<double> bows = layout.Bows(axis).Zip(layout.Bows(p.Curve), (a, b) => Math.Abs(a - b));
            Console.WriteLine($"  to {to}: shape {Quantiles(off)} mm, stated sd at most {p.NormalSdMm.Max():0.0}; gaps {Quantiles(gaps)}, bows {Quantiles(bows)}");
        }
    }
}

static void Each(IReadOnlyList<StudyDraw> draws)
{
    foreach (StudyDraw d in draws)
        Console.WriteLine($"    {d.Taper,-9} shape {string.Join(" ", d.AtFactors.Select(a => a.ShapeMm.ToString("0.00")))} covered {string.Join(" ", d.AtFactors.Select(a => a.Covered.ToString("0.00")))} EI {100 * d.EiRms:0.00} ln weight {d.Estimate.LogRoughnessWeight:0.0} scatter {d.Estimate.ScatterFactor:0.00} rms {d.Estimate.Photos[0].RmsMm:0.000} sd {string.Join(" ", d.AtFactors.Select(a => a.ShapeSdMm.ToString("0.00")))} {d.EstimateMs:0} ms, {d.Estimate.Evaluations} evaluations, own weight {d.Estimate.WeightOverLoad.Share:0.000} ± {d.Estimate.WeightOverLoad.Sd:0.000}");
}

static void Report(string name, IReadOnlyList<StudyDraw> draws)
{
    Console.WriteLine($"{name} ({draws.Count} draws)");
    if (Environment.GetCommandLineArgs().Contains("--each"))
        Each(draws);
    for (int i = 0; i < SyntheticStudy.Factors.Count; i++)
    {
        List<ShapeError> e = [.. draws.Select(d => d.AtFactors[i])];
        Console.WriteLine(
            $"  {SyntheticStudy.Factors[i]:0.0}x  shape {Quantiles(e.Select(x => x.ShapeMm))} mm, stated {2 * e.Select(x => x.ShapeSdMm).Order().ElementAt(e.Count / 2):0.00}, within it {e.Count(x => x.ShapeMm <= 2 * x.ShapeSdMm)}  largest gap {Quantiles(e.Select(x => Math.Abs(x.GapMm)))}"
            + $"  any gap {Quantiles(e.Select(x => x.WorstGapMm))}  bow {Quantiles(e.Select(x => Math.Abs(x.BowMm)))} mm"
            + $"  tip turn {Quantiles(e.Select(x => Math.Abs(x.TipTurnDeg)))} deg  covered {e.Average(x => x.Covered):P0}, gap {e.Count(x => Math.Abs(x.GapSds) <= 2)} of {e.Count}");
    }

    Console.WriteLine(
        $"  EI rms {Quantiles(draws.Select(d => 100 * d.EiRms))} %  inside stated {draws.Average(d => d.EiCovered):P1}"
        + $"  estimate warm {Quantiles(draws.Skip(draws.Count / 4).Select(d => d.EstimateMs))} ms, first {draws[0].EstimateMs:0}  evaluations {Quantiles(draws.Select(d => (double)d.Estimate.Evaluations))}  ln weight {Quantiles(draws.Select(d => d.Estimate.LogRoughnessWeight))}");
}

static string Quantiles(IEnumerable<double> values)
{
    double[] v = [.. values.Order()];
    return $"{v[v.Length / 2]:0.###}/{v[(int)Math.Ceiling(0.95 * v.Length) - 1]:0.###}/{v[^1]:0.###}";
}

static void TimeForward()
{
    SyntheticRod rod = new(Taper.Moderate, true, 0.588, 0.02);
    Clamp clamp = SyntheticRod.Clamp;
    BlankModel blank = rod.Blank();
    double[] forces = [.. Enumerable.Range(0, 100).Select(i => 0.2 + (0.04 * i))];
    foreach ((string name, Func<double, EndLoad> load) in ((string, Func<double, EndLoad>)[])
        [("dead load", f => new FixedDirection(f, -90)), ("cord to an anchor", f => new TowardsAnchor(f, new Vec2(1400, 0)))])
    {
        double best = Enumerable.Range(0, 20).Min(_ => Time(() => Array.ForEach(forces, f => BendSolver.Solve(blank, clamp, load(f))))) / forces.Length;
        Console.WriteLine($"one forward solve, {name}: mean of 100 loads, warm, {best:0.000} ms");
    }
}

static double Time(Action work)
{
    long start = Stopwatch.GetTimestamp();
    work();
    return Stopwatch.GetElapsedTime(start).TotalMilliseconds;
}
