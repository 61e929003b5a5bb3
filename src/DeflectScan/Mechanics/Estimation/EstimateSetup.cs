using DeflectScan.Geometry;

namespace DeflectScan.Mechanics.Estimation;

/// <summary>Everything that a joint fit stands on, laid out once: bases, integration, photos, priors, a start.</summary>
internal sealed class EstimateSetup
{
    private const double Radian = Math.PI / 180;

    // Weights of ∫(L² q'' / mean q)² d(s/L) between which the likeliest is sought.
    private const double LogLeast = -4;
    private const double LogMost = 16;

    // How well the model's length must agree with where the last measured point falls on it.
    private const double LengthToleranceMm = 0.2;

    // The first rough turns take the points no better than this: from a far start a narrow valley is slow to walk along.
    private const double RoughSdMm = 0.5;

    private readonly IReadOnlyList<AxisStart> _starts;
    private readonly IReadOnlyList<ProfileStart> _lines;
    private readonly double[] _start;

    private EstimateSetup(
        IReadOnlyList<MeasuredBend> bends,
        OwnWeight? weight,
        StiffnessOptions options,
        IReadOnlyList<AxisStart> starts,
        IReadOnlyList<ProfileStart> lines,
        double measuredMm)
    {
        Bends = bends;
        Weight = weight;
        Options = options;
        Reference = bends.ToList().FindIndex(b => !b.IsAtRest);
        MeasuredMm = measuredMm;
        _starts = starts;
        _lines = lines;
        LengthMm = MeasuredMm + options.UnseenMm;
        bool rest = bends.Any(b => b.IsAtRest);
        Profile = new CubicBasis(LengthMm, options.KnotIntervals, 0.3);
        Natural = new CubicBasis(LengthMm, rest ? 10 : 4, 1);
        Grid = BendGrid.Of(Template(LengthMm, weight ?? OwnWeight.Unknown), bends[Reference].Down, [], new BendOptions { Steps = options.Steps });
        Shooting = new TangentShooting(Grid, Profile, Natural);
        Unknowns = new Unknowns(Profile.Count, Natural.Count, bends.Count);
        Cases = [.. bends.Select((b, i) => new FitCase(b, Shooting, Profile, starts[i]))];
        _start = StartFrom(starts, lines);
        MeanWidth = Enumerable.Range(0, Profile.Count).Average(i => _start[i]);
        double[] sds = [.. Enumerable.Range(0, Profile.Count).Select(i => 0.25 * Options.LocalVariation * _start[i] / 4)];
        Problem = new ShapeFit(Cases, Unknowns, PriorsOf(), new ProfilePrior(Profile, sds, MeanWidth), Options.SameClampSdDeg * Radian);
    }

    public IReadOnlyList<MeasuredBend> Bends { get; }

    public OwnWeight? Weight { get; }

    public StiffnessOptions Options { get; }

    /// <summary>Number of the photo whose pull is the unit of force.</summary>
    public int Reference { get; }

    public double MeasuredMm { get; }

    public double LengthMm { get; }

    public CubicBasis Profile { get; }

    public CubicBasis Natural { get; }

    public BendGrid Grid { get; }

    public TangentShooting Shooting { get; }

    public Unknowns Unknowns { get; }

    public IReadOnlyList<FitCase> Cases { get; }

    public double MeanWidth { get; }

    /// <summary>The fit's own weighting of the roughness, ln; set by <see cref="Fit"/>.</summary>
    public double LogRoughnessWeight { get; private set; }

    public ShapeFit Problem { get; }

    /// <summary>How many times the equations were set up until the fit stood; set by <see cref="Fit"/>.</summary>
    public int Evaluations { get; private set; }

    public static EstimateSetup? Of(IReadOnlyList<MeasuredBend> bends, OwnWeight? weight, StiffnessOptions options)
    {
        List<AxisStart> starts = [.. bends.Select(b => new AxisStart(b.AxisMm))];
        List<ProfileStart> lines = [];
        for (int i = 0; i < bends.Count; i++)
        {
            if (bends[i].CordDirectionDeg is not { } direction)
                lines.Add(default);
            else if (ProfileStart.Of(starts[i], direction * Radian) is { } line)
                lines.Add(line);
            else
                return null;
        }

        return new EstimateSetup(bends, weight, options, starts, lines, starts.Max(s => s.LengthMm));
    }

    /// <summary>
    /// Settles roughly, takes the length from that, seeks the likeliest weight of the roughness and settles well; once more when the
    /// points scatter more than stated.
    /// </summary>
    /// <returns>The fit and the setup with the length that it stands on, or null when it does not settle.</returns>
    public static (EstimateSetup Setup, FitState Fit)? Fit(EstimateSetup first)
    {
        foreach (FitCase c in first.Cases)
            c.NoiseFactor = Math.Max(1, RoughSdMm / c.MeanSdMm);
        FitState? rough = first.Problem.Settle(first._start, first.Factor(12), byStation: true, 3);
        rough = rough is null ? null : first.Problem.Settle(rough.X, first.Factor(8), byStation: false, 0.5);
        rough = rough is null ? null : first.Likeliest(rough, rounds: 1);
        if (rough is null)
            return null;
        EstimateSetup setup = first;
        FitState fit = rough;
        int evaluations = first.Problem.Evaluations;
        for (int round = 0; round < 4; round++)
        {
            double measured = setup.Cases[setup.Reference].Nearest[^1];
            if (round > 0 && Math.Abs(measured - setup.MeasuredMm) < LengthToleranceMm)
                break;
            EstimateSetup next = new(first.Bends, first.Weight, first.Options, first._starts, first._lines, measured);
            if (next.FitFrom(setup.StretchedTo(next, fit.X), setup.LogRoughnessWeight) is not { } refined)
                return null;
            (setup, fit) = (next, refined);
            evaluations += next.Problem.Evaluations;
        }

        setup.Evaluations = evaluations;
        return (setup, fit);
    }

    private FitState? FitFrom(double[] start, double logWeight)
    {
        LogRoughnessWeight = logWeight;
        FitState? fit = Problem.Settle(start, Factor(logWeight), byStation: false, 0.1);
        fit = fit is null ? null : Likeliest(fit, rounds: 4);
        if (fit is null)
            return null;
        double scatter = fit.At.Misfit / Math.Max(1, Problem.Points - fit.SettledUnknowns());
        if (scatter > 1.15)
        {
            foreach (FitCase c in Cases)
                c.NoiseFactor *= Math.Sqrt(scatter);
            fit = Problem.Settle(fit.X, Factor(LogRoughnessWeight), byStation: false, 0.1);
            fit = fit is null ? null : Likeliest(fit, rounds: 2);
        }

        return fit is null ? null : Problem.Settle(fit.X, Factor(LogRoughnessWeight), byStation: false, 1e-3);
    }

    // The likeliest weight with the equations linear around the last fit, settled there, until it stays.
    private FitState? Likeliest(FitState from, int rounds)
    {
        FitState? fit = from;
        for (int round = 0; round < rounds && fit is not null; round++)
        {
            double before = LogRoughnessWeight;
            Linearised around = fit.At;
            double coarse = Enumerable.Range(0, 21).Select(i => LogLeast + (i * (LogMost - LogLeast) / 20)).MaxBy(Evidence);
            LogRoughnessWeight = ((double[])[coarse, coarse - 0.5, coarse + 0.5]).MaxBy(Evidence);
            if (round > 0 && Math.Abs(before - LogRoughnessWeight) < 0.3)
                break;
            fit = Problem.Settle(fit.X, Factor(LogRoughnessWeight), byStation: false, 0.1);
            double Evidence(double log) => Problem.LogEvidence(around, Factor(log));
        }

        return fit;
    }

    // The same unknowns on another length: the profile keeps its values where its coefficients stand.
    private double[] StretchedTo(EstimateSetup other, double[] x)
    {
        double[] moved = [.. x];
        for (int i = 0; i < Profile.Count; i++)
            moved[i] += Profile.Value(x.AsSpan(0, Profile.Count), other.Profile.Centre(i)) - Profile.Value(x.AsSpan(0, Profile.Count), Profile.Centre(i));
        return moved;
    }

    private double Factor(double log) => Math.Exp(log) * Math.Pow(LengthMm, 3) / (MeanWidth * MeanWidth);

    private Priors PriorsOf()
    {
        Priors priors = new(Unknowns.Count);
        MeasuredBend reference = Bends[Reference];
        bool rest = Bends.Any(b => b.IsAtRest);
        priors.Smooth(
            Unknowns.Profile, Natural, (rest ? 0.06 : Options.NaturalCurvatureSdPerM) / 1000, (rest ? 0.25 : 0.7) * LengthMm);
        (double share, double sd) = WeightOverForce(reference);
        priors.Single(Unknowns.Weight, share, sd);
        for (int c = 0; c < Bends.Count; c++)
        {
            MeasuredBend b = Bends[c];
            priors.Single(Unknowns.ForceAngle(c), _start[Unknowns.ForceAngle(c)], b.IsAtRest ? 1 : Math.Max(b.CordDirectionSdDeg, 1e-4) * Radian);
            if (c == Reference || b.IsAtRest)
                priors.Single(Unknowns.LogForce(c), 0, 1e-5);
            else if (b.LoadN is { } load && reference.LoadN is { } first)
                priors.Single(Unknowns.LogForce(c), Math.Log(load / first), Math.Max(1e-5, double.Hypot(b.LoadSdShare, reference.LoadSdShare)));
            else
                priors.Single(Unknowns.LogForce(c), _start[Unknowns.LogForce(c)], 3);
        }

        return priors;
    }

    private (double Share, double Sd) WeightOverForce(MeasuredBend reference) => (Weight, reference.LoadN) switch
    {
        ({ } w, { } load) => (w.TotalN / load, Math.Max(1e-6, w.TotalN / load * double.Hypot(w.SdShare, reference.LoadSdShare))),
        (null, { } load) => (0, Options.WeightSdNPerM * LengthMm / 1000 / load),
        _ => (0, Options.WeightShareSd),
    };

    private double[] StartFrom(IReadOnlyList<AxisStart> starts, IReadOnlyList<ProfileStart> lines)
    {
        double[] x = new double[Unknowns.Count];
        for (int i = 0; i < Profile.Count; i++)
            x[i] = lines[Reference].At(Math.Min(Profile.Centre(i), MeasuredMm));
        x[Unknowns.Weight] = WeightOverForce(Bends[Reference]).Share;
        double middle = MeasuredMm / 2;
        for (int c = 0; c < Bends.Count; c++)
        {
            x[Unknowns.TipAngle(c)] = starts[c].Angles[0];
            x[Unknowns.TipX(c)] = Bends[c].AxisMm[0].X;
            x[Unknowns.TipY(c)] = Bends[c].AxisMm[0].Y;
            if (Bends[c].CordDirectionDeg is not { } direction)
                continue;
            x[Unknowns.ForceAngle(c)] = direction * Radian;
            x[Unknowns.LogForce(c)] = 4 * Math.Log(lines[Reference].At(middle) / lines[c].At(middle));
        }

        return x;
    }

    // Own weight summing to 1 over the free length, so that the unknown is the whole weight over the reference force.
    private static BlankModel Template(double lengthMm, OwnWeight weight)
    {
        double blank = weight.TotalN > 0 ? weight.BlankN / weight.TotalN : 1;
        double sum = 0;
        for (int i = 0; i < 200; i++)
            sum += weight.Spread((i + 0.5) / 200) * lengthMm / 200;
        return BlankModel.Uniform(lengthMm, 1).WithWeight(s => blank * weight.Spread(s / lengthMm) / sum) with
        {
            PointWeights = [.. weight.Guides.Select(g => g with { WeightN = g.WeightN / weight.TotalN })],
        };
    }
}
