using DeflectScan.Geometry;
using DeflectScan.Mechanics;

namespace DeflectScan.Scenes.Rods;

/// <summary>How EI falls from butt to tip.</summary>
public enum Taper
{
    /// <summary>EI^(1/4) through 22.8, 3.60 and 0.0247 N·m² at butt, middle and tip, by a parabola.</summary>
    Moderate,

    /// <summary>EI^(1/4) a straight line.</summary>
    Straight,

    /// <summary>A stiff lower part and a soft top third.</summary>
    Fast,

    /// <summary>Soft into the butt.</summary>
    Slow,
}

/// <summary>A made-up blank of 2 m free length with its guides, held at 45 degrees; every draw of a seed the same.</summary>
/// <param name="Taper">Its taper.</param>
/// <param name="WithFerrule">A local stiffening of 35 % at mid-length, σ 25 mm.</param>
/// <param name="WeightN">Weight of the bare blank, 0 for none.</param>
/// <param name="SetPerM">Natural curvature in 1/m, downwards, growing to the tip.</param>
public sealed record SyntheticRod(Taper Taper, bool WithFerrule, double WeightN, double SetPerM)
{
    public const double LengthMm = 2000;

    public static Clamp Clamp { get; } = new(new Vec2(100, 200), 45);

    /// <summary>Stations of the rings from the butt, as a layout of seven guides and a tip-top.</summary>
    public static IReadOnlyList<double> RingsFromButtMm { get; } = [520, 820, 1060, 1270, 1460, 1630, 1790, 2000];

    public static IReadOnlyList<double> RingHeightsMm { get; } = [38, 28, 19, 13, 10, 8, 7, 4];

    public IReadOnlyList<PointWeight> Guides { get; } = WeightN > 0
        ? [.. RingsFromButtMm.Select((s, i) => new PointWeight(LengthMm - s, 0.0098 * (i switch { 0 => 6, 1 => 3, 2 => 1.5, _ => 0.7 })))]
        : [];

    public OwnWeight Weight => new(WeightN) { Guides = Guides };

    public BlankModel Blank()
    {
        double sum = 2 * LengthMm;
        return new BlankModel(LengthMm, StiffnessNmm2)
        {
            NaturalCurvaturePerMm = s => -SetPerM / 1000 * (1.3 - (0.6 * s / LengthMm)),
            HasWeight = WeightN > 0,
            WeightPerMmN = s => WeightN * (1 + (2 * s / LengthMm)) / sum,
            PointWeights = Guides,
        };
    }

    public double StiffnessNmm2(double fromTipMm)
    {
        double u = Math.Clamp(1 - (fromTipMm / LengthMm), 0, 1);
        (double butt, double middle, double tip) = Taper switch
        {
            Taper.Moderate => (22.8, 3.60, 0.0247),
            Taper.Straight => (20.0, Math.Pow((Math.Pow(20.0, 0.25) + Math.Pow(0.03, 0.25)) / 2, 4), 0.03),
            Taper.Fast => (26.0, 6.2, 0.022),
            _ => (14.0, 2.0, 0.05),
        };
        double q0 = Math.Pow(butt, 0.25);
        double q1 = Math.Pow(middle, 0.25);
        double q2 = Math.Pow(tip, 0.25);
        double q = (q0 * (1 - u) * (1 - (2 * u))) + (q1 * 4 * u * (1 - u)) + (q2 * u * ((2 * u) - 1));
        double bump = WithFerrule ? 1 + (0.35 * Math.Exp(-0.5 * Math.Pow((fromTipMm - 1000) / 25, 2))) : 1;
        return 1e6 * Math.Pow(q, 4) * bump;
    }

    public Bend Bend(double forceN, double clampTurnedDeg = 0) =>
        BendSolver.Solve(Blank(), Clamp with { AngleDeg = Clamp.AngleDeg + clampTurnedDeg }, new FixedDirection(forceN, -90), new BendOptions { Steps = 300 }).Value
        ?? throw new InvalidOperationException("The made-up rod does not settle.");

    /// <summary>The hanging load in N that turns the tip by an angle.</summary>
    public double LoadFor(double tipTurnDeg)
    {
        (double low, double high) = (0, 30);
        for (int i = 0; i < 18; i++)
        {
            double middle = (low + high) / 2;
            (low, high) = Bend(middle).TipTurnDeg < tipTurnDeg ? (middle, high) : (low, middle);
        }

        return (low + high) / 2;
    }

    /// <summary>A bend as a photo would give it: a point each 5 mm with errors across the axis.</summary>
    public static IReadOnlyList<Vec2> Measure(Bend bend, double noiseMm, Random random, double correlatedMm = 0, double correlationMm = 50)
    {
        List<Vec2> points = [];
        double shared = correlatedMm * Normal(random);
        double keep = Math.Exp(-5 / correlationMm);
        for (double s = 0; s <= LengthMm; s += 5)
        {
            double a = bend.AngleAt(s);
            points.Add(bend.PointAt(s) + (new Vec2(-Math.Sin(a), Math.Cos(a)) * ((noiseMm * Normal(random)) + shared)));
            shared = (keep * shared) + (Math.Sqrt(1 - (keep * keep)) * correlatedMm * Normal(random));
        }

        return points;
    }

    public static double Normal(Random random) =>
        Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
}
