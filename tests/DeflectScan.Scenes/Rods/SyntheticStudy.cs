using System.Diagnostics;
using DeflectScan.Findings;
using DeflectScan.Geometry;
using DeflectScan.Mechanics;
using DeflectScan.Mechanics.Stiffness;

namespace DeflectScan.Scenes.Rods;

/// <summary>What a made-up photo session gives to the estimator.</summary>
public sealed record StudySetup
{
    public double NoiseMm { get; init; } = 0.5;

    /// <summary>The standard uncertainty that the estimator is told; null: the true noise.</summary>
    public double? StatedNoiseMm { get; init; }

    public double CorrelatedMm { get; init; }

    public bool WithFerrule { get; init; } = true;

    public double WeightN { get; init; } = 0.588;

    public double SetPerM { get; init; } = 0.02;

    /// <summary>Own weight and the load are told to the estimator.</summary>
    public bool GiveWeight { get; init; } = true;

    /// <summary>A photo at rest, with the same noise, is given.</summary>
    public bool GiveRest { get; init; } = true;

    /// <summary>Loads of the photos over the one that turns the tip by about 90 degrees.</summary>
    public IReadOnlyList<double> Photos { get; init; } = [1];

    public double CordSdDeg { get; init; } = 0.05;

    /// <summary>The estimator is told that the blank is straight at rest.</summary>
    public bool RestIsStraight { get; init; }

    /// <summary>True of the rod and told to the estimator: between the photos the clamp's angle changes by this sd in degrees. Null: it is told nothing.</summary>
    public double? SameClampSdDeg { get; init; }

    /// <summary>What the estimator is told of that instead. Null: the truth.</summary>
    public double? ToldClampSdDeg { get; init; }
}

/// <summary>Errors of one predicted bend against the true one.</summary>
/// <param name="ShapeMm">Largest distance of a predicted point from the true one at the same length from the clamp, both clamps laid on each other.</param>
/// <param name="GapMm">Error of the largest gap.</param>
/// <param name="WorstGapMm">Largest error of any pair's gap.</param>
/// <param name="BowMm">Error of the largest bow.</param>
/// <param name="TipTurnDeg">Error of the tip's turn.</param>
/// <param name="Covered">Share of the stations where the distance across the axis lies within twice its stated standard uncertainty.</param>
/// <param name="WidestSdMm">Largest stated standard uncertainty across the axis.</param>
/// <param name="ShapeSdMm">Largest stated standard uncertainty of a point's place, in any direction: the Bayesian information bound of <paramref name="ShapeMm"/>.</param>
/// <param name="GapSds">Error of the largest gap over its stated standard uncertainty.</param>
public sealed record ShapeError(double ShapeMm, double GapMm, double WorstGapMm, double BowMm, double TipTurnDeg, double Covered, double WidestSdMm, double ShapeSdMm, double GapSds);

/// <summary>One draw.</summary>
public sealed record StudyDraw(Taper Taper, IReadOnlyList<ShapeError> AtFactors, double EiRms, double EiCovered, double EstimateMs, StiffnessEstimate Estimate);

/// <summary>Made-up rods measured and predicted, seed by seed.</summary>
public static class SyntheticStudy
{
    public static IReadOnlyList<double> Factors { get; } = [0.5, 1, 1.5];

    public static StudyDraw Draw(int seed, StudySetup setup)
    {
        Random random = new(seed);
        Taper taper = (Taper)(seed % 4);
        SyntheticRod rod = new(taper, setup.WithFerrule, setup.WeightN, setup.SetPerM);
        double load = rod.LoadFor(84 + (10 * random.NextDouble()));
        List<MeasuredBend> bends = [.. setup.Photos.Select(f => Photo(rod, load * f, setup, random))];
        if (setup.GiveRest)
            bends.Add(Photo(rod, 0, setup, random));
        TimeSpan before = Process.GetCurrentProcess().TotalProcessorTime;
        Outcome<StiffnessEstimate> outcome = StiffnessEstimator.Estimate(bends, setup.GiveWeight ? rod.Weight : null, OptionsOf(setup));
        double ms = (Process.GetCurrentProcess().TotalProcessorTime - before).TotalMilliseconds;
        StiffnessEstimate estimate = outcome.Value ?? throw new InvalidOperationException(outcome.Findings[0].Message);
        List<ShapeError> errors = [.. Factors.Select(f => Compare(rod.Bend(load * f), Predict(estimate, f / setup.Photos[0]), RodFigures.Synthetic))];
        (double rms, double covered) = Stiffness(rod, estimate, load * setup.Photos[0]);
        return new StudyDraw(taper, errors, rms, covered, ms, estimate);
    }

    private static MeasuredBend Photo(SyntheticRod rod, double loadN, StudySetup setup, Random random)
    {
        // The clamp gave a little since the photo before: the rod turned about it.
        double turned = (setup.SameClampSdDeg ?? 0) * (loadN == 0 ? SyntheticRod.Normal(random) : 0);
        Bend bend = rod.Bend(loadN, turned);
        MeasuredBend measured = new(SyntheticRod.Measure(bend, setup.NoiseMm, random, setup.CorrelatedMm))
        {
            NormalSdMm = setup.StatedNoiseMm ?? setup.NoiseMm,
            CorrelatedSdMm = setup.CorrelatedMm,
            TipSdMm = 0.5,
        };
        return loadN == 0
            ? measured
            : measured with
            {
                CordDirectionDeg = -90 + (setup.CordSdDeg * SyntheticRod.Normal(random)),
                CordDirectionSdDeg = setup.CordSdDeg,
                LoadN = setup.GiveWeight ? loadN : null,
                LoadSdShare = 0.002,
            };
    }

    private static StiffnessOptions OptionsOf(StudySetup setup) => setup.RestIsStraight
        ? new StiffnessOptions { SameClampSdDeg = setup.ToldClampSdDeg ?? setup.SameClampSdDeg, NaturalCurvatureSdPerM = 1e-5 }
        : new StiffnessOptions { SameClampSdDeg = setup.ToldClampSdDeg ?? setup.SameClampSdDeg };

    private static PredictedBend Predict(StiffnessEstimate estimate, double factor)
    {
        Outcome<PredictedBend> outcome = BendPredictor.AtFactor(estimate, factor);
        return outcome.Value ?? throw new InvalidOperationException(outcome.Findings[0].Message);
    }

    /// <summary>A predicted bend against the true one.</summary>
    public static ShapeError Compare(Bend truth, PredictedBend predicted, RodFigures layout)
    {
        Bend bend = predicted.Bend;
        Vec2 shift = truth.PointsMm[^1] - bend.PointsMm[^1];
        double worst = 0;
        int inside = 0;
        int all = 0;
        ArcCurve curve = truth.Curve;
        for (int i = 0; i < bend.StationsMm.Count; i++)
        {
            double fromClamp = bend.StationsMm[^1] - bend.StationsMm[i];
            Vec2 other = truth.PointAt(truth.StationsMm[^1] - fromClamp);
            worst = Math.Max(worst, (bend.PointsMm[i] + shift).DistanceTo(other));
            double across = Math.Abs(curve.Nearest(bend.PointsMm[i], truth.StationsMm[^1] - fromClamp).Offset);
            all++;
            if (across <= 2 * predicted.NormalSdMm[i])
                inside++;
        }

        ArcCurve there = predicted.Curve;
        IReadOnlyList<double> gaps = layout.Gaps(there);
        IReadOnlyList<double> trueGaps = layout.Gaps(curve);
        double gapError = gaps.Max() - trueGaps.Max();
        return new ShapeError(
            worst,
            gapError,
            gaps.Zip(trueGaps, (a, b) => Math.Abs(a - b)).Max(),
            layout.LargestBow(there) - layout.LargestBow(curve),
            bend.TipTurnDeg - truth.TipTurnDeg,
            (double)inside / all,
            predicted.NormalSdMm.Max(),
            Enumerable.Range(0, bend.PointsMm.Count).Max(predicted.PlaceSdMm),
            gapError / predicted.SdOf(layout.LargestGap));
    }

    // Over 10 to 95 % of the length from the butt.
    private static (double Rms, double Covered) Stiffness(SyntheticRod rod, StiffnessEstimate estimate, double loadN)
    {
        double squares = 0;
        int inside = 0;
        int all = 0;
        for (double s = 0.05 * SyntheticRod.LengthMm; s <= 0.9 * SyntheticRod.LengthMm; s += 5)
        {
            double off = (estimate.RatioMm2(s) * loadN / rod.StiffnessNmm2(s)) - 1;
            squares += off * off;
            all++;
            if (Math.Abs(off) <= 2 * estimate.RatioSdShare(s))
                inside++;
        }

        return (Math.Sqrt(squares / all), (double)inside / all);
    }
}
