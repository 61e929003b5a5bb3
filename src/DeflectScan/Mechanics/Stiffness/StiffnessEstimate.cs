using DeflectScan.Geometry;
using DeflectScan.Mechanics.Estimation;
using DeflectScan.Numerics;

namespace DeflectScan.Mechanics.Stiffness;

/// <summary>One photo's part in an estimate.</summary>
/// <param name="ForceRatio">Its pull over the reference photo's; 0 at rest.</param>
/// <param name="ForceRatioSd">One standard uncertainty of the ratio.</param>
/// <param name="PullDirectionDeg">The fitted direction of the pull.</param>
/// <param name="Clamp">The fitted clamp end.</param>
/// <param name="TipTurnDeg">How far the tip has turned against the clamp end.</param>
/// <param name="RmsMm">Root mean square distance of the measured points from the fitted bend, across it, mm.</param>
public sealed record FittedPhoto(
    double ForceRatio, double ForceRatioSd, double PullDirectionDeg, Clamp Clamp, double TipTurnDeg, double RmsMm);

/// <summary>A stretch of stations in mm from the tip.</summary>
public sealed record Stretch(double FromMm, double ToMm);

/// <summary>
/// The blank's stiffness from its measured bends: EI over the reference photo's pull, in mm², at every station from the tip, with its
/// uncertainty, and where the photos tell it at all. With the reference load known also EI itself.
/// </summary>
public sealed class StiffnessEstimate
{
    private const int InformationStations = 60;
    private readonly double[] _informationSd;

    internal StiffnessEstimate(EstimateSetup setup, FitState fit)
    {
        Setup = setup;
        Fit = fit;
        Covariance = Cholesky.Inverse(fit.Factor, fit.X.Length);
        double[] stations = [.. Enumerable.Range(0, InformationStations + 1).Select(i => LengthMm * i / InformationStations)];
        _informationSd = DataInformation.SdOfLogStiffness(stations, setup.Problem, fit.X);
        Photos = [.. setup.Cases.Select((_, c) => Describe(c))];
        Told = FindTold();
    }

    /// <summary>Free length from tip to clamp, mm, the unseen part included.</summary>
    public double LengthMm => Setup.LengthMm;

    /// <summary>Length of the measured part, mm.</summary>
    public double MeasuredMm => Setup.MeasuredMm;

    /// <summary>The reference photo's load in N; null when no scale was read.</summary>
    public double? LoadN => Setup.Bends[Setup.Reference].LoadN;

    /// <summary>Number of the photo whose pull is the unit of force.</summary>
    public int ReferencePhoto => Setup.Reference;

    public IReadOnlyList<FittedPhoto> Photos { get; }

    /// <summary>The stretches whose stiffness the photos tell; elsewhere the profile is its smooth continuation.</summary>
    public IReadOnlyList<Stretch> Told { get; }

    /// <summary>Own weight over the reference pull, as fitted, and its standard uncertainty.</summary>
    public (double Share, double Sd) WeightOverLoad =>
        (Fit.X[Setup.Unknowns.Weight], Math.Sqrt(Covariance[Setup.Unknowns.Weight * (Fit.X.Length + 1)]));

    /// <summary>Natural logarithm of the weight that the roughness of the profile got; larger is smoother.</summary>
    public double LogRoughnessWeight => Setup.LogRoughnessWeight;

    /// <summary>How many times the equations were set up: what the estimate's time goes by.</summary>
    public int Evaluations => Setup.Evaluations;

    /// <summary>By how much the points scatter more than stated; 1 when they do not.</summary>
    public double ScatterFactor => Setup.Cases[0].NoiseFactor;

    /// <summary>True when own weight was given and so was the load it is measured by.</summary>
    public bool WeightIsKnown => Setup.Weight is not null && LoadN is not null;

    /// <summary>True when a photo at rest was given.</summary>
    public bool RestIsKnown => Setup.Bends.Any(b => b.IsAtRest);

    /// <summary>The largest force ratio among the photos: what lies beyond was not measured.</summary>
    public double LargestForceRatio => Photos.Max(p => p.ForceRatio);

    /// <summary>
    /// How far the clamp end of another photo is turned against the first one's, each against its own vertical, degrees counter-clockwise, with its standard
    /// uncertainty; of the photo where that is most sure. Null for one photo.
    /// </summary>
    public (double Deg, double SdDeg)? ClampMoved =>
        Photos.Count < 2 ? null : Enumerable.Range(1, Photos.Count - 1).Select(ClampMovedIn).MaxBy(m => Math.Abs(m.Deg) / m.SdDeg);

    /// <summary>The same of one photo, by its number from 1.</summary>
    public (double Deg, double SdDeg) ClampMovedIn(int photo)
    {
        int n = Fit.X.Length;
        double[] row = ClampMovedBy(photo);
        double variance = Enumerable.Range(0, n).Sum(i => row[i] == 0 ? 0 : row[i] * Vectors.Dot(Covariance.AsSpan(i * n, n), row));
        double moved = Math.IEEERemainder(FromDown(Photos[photo].Clamp) - FromDown(Photos[0].Clamp), 360);
        return (moved, Math.Max(1e-6, Math.Sqrt(Math.Max(0, variance)) * 180 / Math.PI));
    }

    /// <summary>Derivatives of <see cref="ClampMovedIn"/> by all unknowns, radians.</summary>
    internal double[] ClampMovedBy(int photo)
    {
        double[] row = new double[Fit.X.Length];
        for (int i = 0; i < Setup.Cases[photo].ClampAngleBy.Length; i++)
        {
            row[Setup.Unknowns.Global(photo, i)] += Setup.Cases[photo].ClampAngleBy[i];
            row[Setup.Unknowns.Global(0, i)] -= Setup.Cases[0].ClampAngleBy[i];
        }

        return row;
    }

    internal EstimateSetup Setup { get; }

    internal FitState Fit { get; }

    internal double[] Covariance { get; }

    /// <summary>EI over the reference pull, mm².</summary>
    public double RatioMm2(double stationMm) => Math.Pow(Setup.Profile.Value(Fit.X.AsSpan(0, Setup.Unknowns.Profile), stationMm), 4);

    /// <summary>EI in N·mm²; null without a load.</summary>
    public double? StiffnessNmm2(double stationMm) => LoadN * RatioMm2(stationMm);

    /// <summary>
    /// One standard uncertainty of <see cref="RatioMm2"/> as a share of it, with short changes that a bend does not show.
    /// </summary>
    public double RatioSdShare(double stationMm)
    {
        Span<double> b = stackalloc double[4];
        int first = Setup.Profile.At(stationMm, b);
        double width = Math.Pow(RatioMm2(stationMm), 0.25);
        double sum = 0;
        for (int i = 0; i < 4; i++)
        {
            for (int j = 0; j < 4; j++)
                sum += b[i] * b[j] * Covariance[((first + i) * Fit.X.Length) + first + j];
        }

        return Math.Sqrt((16 * Math.Max(0, sum) / (width * width)) + (Setup.Options.LocalVariation * Setup.Options.LocalVariation));
    }

    /// <summary>The same for EI itself: the load's uncertainty comes in.</summary>
    public double StiffnessSdShare(double stationMm) => double.Hypot(RatioSdShare(stationMm), Setup.Bends[Setup.Reference].LoadSdShare);

    /// <summary>
    /// How well the photos' points alone would fix EI over the twentieth of the length around a station, were all the rest known: one
    /// standard deviation as a share. Small where the photos tell, large at the tip (no moment) and near a stiff clamp end (hardly bends).
    /// </summary>
    public double DataSdShare(double stationMm)
    {
        double at = Math.Clamp(stationMm / LengthMm, 0, 1) * InformationStations;
        int i = Math.Min((int)at, InformationStations - 1);
        double a = Math.Min(_informationSd[i], 1e3);
        double b = Math.Min(_informationSd[i + 1], 1e3);
        return a + ((at - i) * (b - a));
    }

    public bool IsTold(double stationMm) => Told.Any(t => stationMm >= t.FromMm && stationMm <= t.ToMm);

    /// <summary>Natural curvature in 1/mm as fitted (0 where nothing tells it).</summary>
    public double NaturalCurvaturePerMm(double stationMm) =>
        Setup.Natural.Value(Fit.X.AsSpan(Setup.Unknowns.Profile, Setup.Unknowns.Natural), stationMm);

    /// <summary>The blank as fitted, for the forward solver, with the reference pull as the unit of force unless the load is known.</summary>
    public BlankModel Model()
    {
        double unit = LoadN ?? 1;
        double weight = WeightOverLoad.Share * unit;
        BendGrid grid = Setup.Grid;
        OwnWeight spread = Setup.Weight ?? OwnWeight.Unknown;
        double blank = spread.TotalN > 0 ? spread.BlankN / spread.TotalN : 1;
        double sum = Enumerable.Range(0, 200).Sum(i => spread.Spread((i + 0.5) / 200)) * LengthMm / 200;
        return new BlankModel(grid.LengthMm, s => unit * RatioMm2(s))
        {
            NaturalCurvaturePerMm = NaturalCurvaturePerMm,
            HasWeight = true,
            WeightPerMmN = s => weight * blank * spread.Spread(s / LengthMm) / sum,
            PointWeights = [.. spread.Guides.Select(g => g with { WeightN = weight * g.WeightN / spread.TotalN })],
        };
    }

    private FittedPhoto Describe(int photo)
    {
        Unknowns u = Setup.Unknowns;
        double[] x = Fit.X;
        TangentTrace trace = Setup.Cases[photo].Trace(x, u, photo);
        Vec2 tip = new(x[u.TipX(photo)], x[u.TipY(photo)]);
        Clamp clamp = new(tip + trace.Place[^1], trace.Angle[^1] * 180 / Math.PI) { Down = Setup.Bends[photo].Down };
        FitCase fitted = Setup.Cases[photo];
        double squares = 0;
        for (int i = 0; i < fitted.Rows - 1; i++)
        {
            double s = fitted.Nearest[i];
            double off = FitCase.Normal(fitted.AngleAt(trace, s)).Dot(Setup.Bends[photo].AxisMm[i] - tip - fitted.PlaceAt(trace, s));
            squares += off * off;
        }

        double ratio = Setup.Bends[photo].IsAtRest ? 0 : Math.Exp(x[u.LogForce(photo)]);
        return new FittedPhoto(
            ratio,
            photo == Setup.Reference ? 0 : ratio * Math.Sqrt(Covariance[u.LogForce(photo) * (x.Length + 1)]),
            x[u.ForceAngle(photo)] * 180 / Math.PI,
            clamp,
            Math.Abs(trace.Angle[0] - trace.Angle[^1]) * 180 / Math.PI,
            Math.Sqrt(squares / (fitted.Rows - 1)));
    }

    private static double FromDown(Clamp clamp) => clamp.AngleDeg - (Math.Atan2(clamp.Down.Y, clamp.Down.X) * 180 / Math.PI);

    private List<Stretch> FindTold()
    {
        List<Stretch> told = [];
        double? from = null;
        for (int i = 0; i <= InformationStations; i++)
        {
            double s = LengthMm * i / InformationStations;
            bool tells = _informationSd[i] < Setup.Options.ToldShare && s <= MeasuredMm;
            if (tells)
                from ??= s;
            if (from is { } start && (!tells || i == InformationStations))
            {
                told.Add(new Stretch(start, tells ? s : LengthMm * (i - 1) / InformationStations));
                from = null;
            }
        }

        return told;
    }
}
