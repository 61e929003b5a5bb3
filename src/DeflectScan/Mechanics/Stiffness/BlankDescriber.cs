using DeflectScan.Findings;
using DeflectScan.Geometry;
using DeflectScan.Mechanics.Estimation;

namespace DeflectScan.Mechanics.Stiffness;

/// <summary>Puts an estimated blank into plain figures, and two blanks beside each other.</summary>
public static class BlankDescriber
{
    private const int MostWays = 10;
    private const double StandardPullDeg = -135;
    private static readonly double[] DefaultTurns = [30, 60, 90];
    private static readonly Clamp Level = new(new Vec2(0, 0), 0);

    /// <summary>The description, or a refusal when the standard bend cannot be had at one of the tip turns.</summary>
    /// <param name="estimate">The blank.</param>
    /// <param name="stationsMm">Stations from the tip; null for twenty even ones.</param>
    /// <param name="tipTurnsDeg">Tip turns of the standard bend, below 135; null for 30, 60 and 90.</param>
    public static Outcome<BlankDescription> Describe(
        StiffnessEstimate estimate, IReadOnlyList<double>? stationsMm = null, IReadOnlyList<double>? tipTurnsDeg = null)
    {
        stationsMm ??= [.. Enumerable.Range(0, 21).Select(i => estimate.LengthMm * i / 20)];
        FittedPhoto photo = estimate.Photos[estimate.ReferencePhoto];
        double force = estimate.LoadN ?? 1;
        Outcome<Bend> measured = BendSolver.Solve(estimate.Model(), photo.Clamp, new FixedDirection(force, photo.PullDirectionDeg));
        if (measured.IsRefused)
            return Outcome<BlankDescription>.Refused(measured.Findings);
        List<TipTurnFigure> loads = [];
        foreach (double turn in (tipTurnsDeg ?? DefaultTurns).Order())
        {
            Outcome<TipTurnFigure> figure = AtTurn(estimate, turn);
            if (figure.IsRefused)
                return Outcome<BlankDescription>.Refused(figure.Findings);
            loads.Add(figure.Value);
        }

        double sense = Math.Sign(measured.Value.AnglesRad[0] - measured.Value.AnglesRad[^1]);
        return Outcome<BlankDescription>.Of(new BlankDescription(
            [.. stationsMm.Select(s => Figure(estimate, measured.Value, s, sense))],
            loads,
            TurningShares.Of(measured.Value)));
    }

    /// <summary>The second blank over the first, at the same shares of their lengths and the same tip turns of the standard bend.</summary>
    public static Outcome<BlankComparison> Compare(StiffnessEstimate first, StiffnessEstimate second)
    {
        bool absolute = first.LoadN is not null && second.LoadN is not null;
        List<TipTurnRatio> loads = [];
        foreach (double turn in DefaultTurns)
        {
            Outcome<TipTurnFigure> a = AtTurn(first, turn);
            Outcome<TipTurnFigure> b = AtTurn(second, turn);
            if (a.IsRefused || b.IsRefused)
                return Outcome<BlankComparison>.Refused(a.IsRefused ? a.Findings : b.Findings);
            loads.Add(new TipTurnRatio(
                turn, b.Value.LoadN / a.Value.LoadN, double.Hypot(a.Value.LoadSdShare, b.Value.LoadSdShare), a.Value.Turning, b.Value.Turning));
        }

        return Outcome<BlankComparison>.Of(new BlankComparison([.. Enumerable.Range(0, 21).Select(i => Ratio(i / 20.0))], loads, absolute));

        StationRatio Ratio(double share)
        {
            double s1 = share * first.LengthMm;
            double s2 = share * second.LengthMm;
            return absolute
                ? new StationRatio(
                    share,
                    second.StiffnessNmm2(s2)!.Value / first.StiffnessNmm2(s1)!.Value,
                    double.Hypot(first.StiffnessSdShare(s1), second.StiffnessSdShare(s2)),
                    first.IsTold(s1) && second.IsTold(s2))
                : new StationRatio(
                    share,
                    second.RatioMm2(s2) / first.RatioMm2(s1),
                    double.Hypot(first.RatioSdShare(s1), second.RatioSdShare(s2)),
                    first.IsTold(s1) && second.IsTold(s2));
        }
    }

    private static StationFigure Figure(StiffnessEstimate estimate, Bend measured, double station, double sense)
    {
        int i = Math.Max(1, measured.StationsMm.TakeWhile(s => s < station).Count());
        i = Math.Min(i, measured.StationsMm.Count - 1);
        double t = Math.Clamp((station - measured.StationsMm[i - 1]) / (measured.StationsMm[i] - measured.StationsMm[i - 1]), 0, 1);
        double curvature = measured.CurvaturesPerMm[i - 1] + (t * (measured.CurvaturesPerMm[i] - measured.CurvaturesPerMm[i - 1]));
        return new StationFigure(
            station,
            estimate.RatioMm2(station),
            estimate.StiffnessNmm2(station),
            estimate.LoadN is null ? estimate.RatioSdShare(station) : estimate.StiffnessSdShare(station),
            estimate.IsTold(station),
            1000 * sense * curvature);
    }

    // The standard bend, with the spread over the independent ways in which the profile may be off.
    private static Outcome<TipTurnFigure> AtTurn(StiffnessEstimate estimate, double turnDeg)
    {
        double[] q = estimate.Fit.X[..estimate.Setup.Unknowns.Profile];
        (double factor, Outcome<Bend> bend) = Standard(estimate, q, turnDeg, null);
        if (bend.IsRefused)
            return Outcome<TipTurnFigure>.Refused(bend.Findings);
        TurningShares turning = TurningShares.Of(bend.Value);
        double variance = 0;
        double tip = 0;
        double middle = 0;
        double butt = 0;
        foreach (double[] way in ProfileWays.Of(estimate, MostWays))
        {
            double[] moved = [.. q.Zip(way, (a, b) => Math.Max(a + b, 0.2 * a))];
            (double other, Outcome<Bend> there) = Standard(estimate, moved, turnDeg, factor);
            if (there.IsRefused)
                return Outcome<TipTurnFigure>.Refused(there.Findings);
            TurningShares shares = TurningShares.Of(there.Value);
            variance += Math.Pow((other / factor) - 1, 2);
            tip += Math.Pow(shares.Tip - turning.Tip, 2);
            middle += Math.Pow(shares.Middle - turning.Middle, 2);
            butt += Math.Pow(shares.Butt - turning.Butt, 2);
        }

        double loadSd = estimate.LoadN is null ? 0 : estimate.Setup.Bends[estimate.ReferencePhoto].LoadSdShare;
        return Outcome<TipTurnFigure>.Of(new TipTurnFigure(
            turnDeg,
            factor,
            estimate.LoadN * factor,
            double.Hypot(Math.Sqrt(variance), loadSd),
            turning,
            new TurningShares(Math.Sqrt(tip), Math.Sqrt(middle), Math.Sqrt(butt))));
    }

    private static (double Factor, Outcome<Bend> Bend) Standard(StiffnessEstimate estimate, double[] q, double turnDeg, double? start)
    {
        CubicBasis basis = estimate.Setup.Profile;
        BlankModel blank = new(estimate.LengthMm, s => Math.Pow(basis.Value(q, s), 4));
        BendOptions options = new() { Steps = 100 };
        return TipTurnSearch.Find(
            turnDeg, start ?? (turnDeg / 60), (pull, near) => BendSolver.Solve(blank, Level, new FixedDirection(pull, StandardPullDeg), options, null, near));
    }
}
