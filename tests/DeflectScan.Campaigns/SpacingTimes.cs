using System.Globalization;
using DeflectScan.Layout;
using DeflectScan.Layout.Spacing;
using DeflectScan.Scenes;
using DeflectScan.Scenes.Rods;

/// <summary>How long the best spacing of twelve guides on a 1 mm grid takes on 3 m rods of many forms; the process warm, and for the first of all cold.</summary>
internal static class SpacingTimes
{
    private const int Guides = 12;
    private const double LengthMm = 3000;
    private const double HeldMm = 2200;
    private const int Runs = 5;

    public static void Report(int seeds)
    {
        bool first = true;
        foreach (SpacingGoal goal in (SpacingGoal[])[SpacingGoal.Bow, SpacingGoal.Gap])
        {
            foreach (bool ordered in (bool[])[true, false])
            {
                foreach (bool inflection in (bool[])[false, true])
                {
                    foreach (GuideSide side in goal == SpacingGoal.Bow ? [GuideSide.Inside] : (GuideSide[])[GuideSide.Inside, GuideSide.Outside])
                    {
                        List<double> ms = [];
                        for (int seed = 1; seed <= seeds; seed++)
                        {
                            Random random = new(seed);
                            BlankShape blank = RandomBlank.Make(random, LengthMm, inflection);
                            RunningSpan span = new(HeldMm, 3, side, Heights(random));
                            SpacingOptions options = new() { Goal = goal, NotGrowingTowardTip = ordered };
                            double cold = Time(blank, span, options);
                            if (first)
                                Console.WriteLine($"cold start, by {goal}: {cold:0} ms");
                            first = false;
                            ms.Add(Mean(blank, span, options));
                        }

                        ms.Sort();
                        Console.WriteLine(string.Create(
                            CultureInfo.InvariantCulture,
                            $"{goal,-4} {(ordered ? "ordered" : "free"),-8} {(inflection ? "inflected" : "convex"),-10} {side,-8} median {ms[ms.Count / 2]:0.0} most {ms[^1]:0.0} ms"));
                    }
                }
            }
        }
    }

    /// <summary>Ring heights as on a rod: three running sizes, the tip-top low, a held guide of another height.</summary>
    private static Func<double, double> Heights(Random random)
    {
        double held = 12 + (25 * random.NextDouble());
        double slope = 0.004 * random.NextDouble();
        double step = 600 + (600 * random.NextDouble());
        return s => s >= HeldMm ? held : s < 4 ? 4 : 6 + (slope * s) + (s > step ? 2 : 0);
    }

    private static double Mean(BlankShape blank, RunningSpan span, SpacingOptions options)
    {
        double start = ThreadClock.Milliseconds();
        for (int i = 0; i < Runs; i++)
            SpacingRule.TryBest(blank, span, Guides, options, out _);
        return (ThreadClock.Milliseconds() - start) / Runs;
    }

    private static double Time(BlankShape blank, RunningSpan span, SpacingOptions options)
    {
        double start = ThreadClock.Milliseconds();
        if (!SpacingRule.TryBest(blank, span, Guides, options, out _))
            throw new InvalidOperationException("Twelve guides find no room.");
        return ThreadClock.Milliseconds() - start;
    }
}
