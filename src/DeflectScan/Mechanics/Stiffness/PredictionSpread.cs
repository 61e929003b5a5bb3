using DeflectScan.Geometry;
using DeflectScan.Mechanics.Estimation;
using DeflectScan.Numerics;
using MathNet.Numerics.LinearAlgebra;
using MathNet.Numerics.LinearAlgebra.Factorization;

namespace DeflectScan.Mechanics.Stiffness;

/// <summary>How the pull of a predicted bend is fixed.</summary>
internal enum PullRule
{
    /// <summary>Its factor and direction are given.</summary>
    Factor,

    /// <summary>Its factor is given, its direction points to a fixed anchor.</summary>
    FactorToAnchor,

    /// <summary>It turns the tip by a given angle, in the given direction.</summary>
    TipTurn,

    /// <summary>It turns the tip by a given angle and points to a fixed anchor.</summary>
    TipTurnToAnchor,
}

/// <summary>
/// First-order spread of a predicted bend: the fit's unknowns move the measured clamp end and the blank; the new bend's tip angle (and
/// pull) follow from the conditions that hold it at the clamp (at the anchor, at the tip turn), by the implicit function theorem.
/// </summary>
internal sealed class PredictionSpread
{
    private const int MostWays = 14;
    private readonly TangentTrace _there;
    private readonly double[] _byUnknown;
    private readonly double[] _turnByUnknown;
    private readonly double[] _factorByUnknown;
    private readonly int _count;
    private readonly double _clampTurnSdRad;

    /// <param name="estimate">The fit.</param>
    /// <param name="photo">The photo whose clamp end and pull it starts from.</param>
    /// <param name="there">The predicted bend integrated from its tip.</param>
    /// <param name="rule">What fixes the pull.</param>
    /// <param name="cord">From tip to anchor in mm, when there is one.</param>
    public PredictionSpread(StiffnessEstimate estimate, int photo, TangentTrace there, PullRule rule, Vec2 cord)
    {
        _there = there;
        Unknowns u = estimate.Setup.Unknowns;
        TangentTrace here = estimate.Setup.Cases[photo].Trace(estimate.Fit.X, u, photo);
        TangentLayout layout = estimate.Setup.Shooting.Layout;
        _count = u.Count + 1;
        int nodes = there.Angle.Length;
        _byUnknown = new double[2 * nodes * _count];
        _turnByUnknown = new double[_count];
        _factorByUnknown = new double[_count];
        int last = nodes - 1;
        int p = layout.Count;
        double[,] conditions = Conditions(layout, rule, cord, last, p);
        double turnPerMm = (there.Moment[last] - here.Moment[last]) * UnseenFlexibility(estimate);
        _clampTurnSdRad = estimate.Setup.Options.UnseenSdMm * Math.Abs(turnPerMm);
        AddClampTurn(estimate, layout, conditions, rule, cord.Normalized());
        for (int k = 0; k < u.Count; k++)
        {
            int local = LocalColumn(u, photo, k, p);
            if (local < 0)
                continue;
            double clampAngle = local < p ? here.AngleBy[(last * p) + local] : 0;
            Vec2 clamp = local == p ? new Vec2(1, 0) : local == p + 1 ? new Vec2(0, 1) : By(here, last, local);

            // The part of this unknown that the new bend shares: blank and weight, the pull's direction; not the old tip's angle and place.
            bool shared = local < u.Shared || local == layout.ForceAngle;
            double angleDirect = shared ? there.AngleBy[(last * p) + local] : 0;
            Vec2 placeDirect = shared ? By(there, last, local) : default;
            Vec2 pull = cord.Normalized();
            Vec2 tipMoves = clamp - placeDirect;
            double headingDirect = shared && local == layout.ForceAngle ? 1 : 0;
            double[] misses =
            [
                angleDirect - clampAngle,
                (-tipMoves.Cross(pull)) + (headingDirect * cord.Length),
                -clampAngle,
            ];
            double[] follow = Follow(conditions, misses, rule);
            FillColumn(k, local, layout, clamp, shared, follow);
            _turnByUnknown[k] = follow[0] - clampAngle;
            _factorByUnknown[k] = follow[2];
        }

        if (estimate.Setup.Options.UnseenFound is { } found)
            AddUnseenError(estimate.ClampMovedBy(found.Photo), -turnPerMm / found.RadPerMm);
    }

    public (double[] NormalSd, double TurnSdRad, double FactorSd, List<Vec2[]> Ways) Spread(double[] ofUnknowns)
    {
        double[] covariance = WithClampTurn(ofUnknowns);
        int nodes = _there.Angle.Length;
        double[] sd = new double[nodes];
        double[] row = new double[_count];
        for (int i = 0; i < nodes; i++)
        {
            Vec2 n = FitCase.Normal(_there.Angle[i]);
            for (int k = 0; k < _count; k++)
                row[k] = (n.X * _byUnknown[(2 * i * _count) + k]) + (n.Y * _byUnknown[(((2 * i) + 1) * _count) + k]);
            sd[i] = Sd(row, covariance);
        }

        return (sd, Sd(_turnByUnknown, covariance), Sd(_factorByUnknown, covariance), Ways(covariance));
    }

    // Mean of F/EI over the stretch that may bend unseen: blanks go on growing stiffer to the butt, here as q = (EI/F)^(1/4) does over the last third.
    private static double UnseenFlexibility(StiffnessEstimate estimate)
    {
        double length = estimate.LengthMm;
        double end = Math.Pow(estimate.RatioMm2(length), 0.25);
        double perMm = Math.Max(0, (end - Math.Pow(estimate.RatioMm2(length * 2 / 3), 0.25)) / (length / 3));
        double reach = 2 * estimate.Setup.Options.UnseenSdMm;
        return Enumerable.Range(0, 20).Average(i => Math.Pow(end + (perMm * reach * (i + 0.5) / 20), -4));
    }

    // One more unknown: what bends unseen beyond the trace turns its end by another angle at another load, about the middle of that stretch.
    private void AddClampTurn(StiffnessEstimate estimate, TangentLayout layout, double[,] conditions, PullRule rule, Vec2 pull)
    {
        int k = _count - 1;
        Vec2 end = FitCase.Normal(_there.Angle[^1]) * estimate.Setup.Options.UnseenSdMm;
        double[] follow = Follow(conditions, [-1, -end.Cross(pull), -1], rule);
        FillColumn(k, -1, layout, end, false, follow);
        _turnByUnknown[k] = follow[0] - 1;
        _factorByUnknown[k] = follow[2];
    }

    // The unseen length was found from the fitted clamp angles: what they are off, it is off, and turns the end at another load.
    private void AddUnseenError(double[] movedBy, double turnPerMoved)
    {
        int turned = _count - 1;
        for (int k = 0; k < movedBy.Length; k++)
        {
            double turn = movedBy[k] * turnPerMoved;
            for (int row = 0; row < _byUnknown.Length; row += _count)
                _byUnknown[row + k] += turn * _byUnknown[row + turned];
            _turnByUnknown[k] += turn * _turnByUnknown[turned];
            _factorByUnknown[k] += turn * _factorByUnknown[turned];
        }
    }

    private double[] WithClampTurn(double[] covariance)
    {
        double[] all = new double[_count * _count];
        for (int i = 0; i < _count - 1; i++)
            covariance.AsSpan(i * (_count - 1), _count - 1).CopyTo(all.AsSpan(i * _count));
        all[^1] = Math.Max(_clampTurnSdRad * _clampTurnSdRad, 1e-18);
        return all;
    }

    private static int LocalColumn(Unknowns u, int photo, int k, int p)
    {
        if (k < u.Shared)
            return k;
        int own = k - u.TipAngle(photo);
        return own is < 0 or >= Unknowns.PerCase ? -1 : own < 3 ? u.Shared + own : p + own - 3;
    }

    private static Vec2 By(TangentTrace trace, int node, int column)
    {
        int at = (node * trace.Count) + column;
        return new Vec2(trace.XBy[at], trace.YBy[at]);
    }

    // Rows: clamp angle, pull along the cord, tip turn. Columns: tip angle, heading, ln force.
    private double[,] Conditions(TangentLayout layout, PullRule rule, Vec2 cord, int last, int p)
    {
        double[,] a = new double[3, 3];
        int[] columns = [layout.TipAngle, layout.ForceAngle, layout.LogForce];
        Vec2 pull = cord.Normalized();
        for (int j = 0; j < 3; j++)
        {
            a[0, j] = _there.AngleBy[(last * p) + columns[j]];
            a[1, j] = By(_there, last, columns[j]).Cross(pull) + (j == 1 ? cord.Length : 0);
        }

        a[2, 0] = 1;
        bool anchored = rule is PullRule.FactorToAnchor or PullRule.TipTurnToAnchor;
        if (!anchored)
            (a[1, 0], a[1, 1], a[1, 2]) = (0, 1, 0);
        if (rule is PullRule.Factor or PullRule.FactorToAnchor)
            (a[2, 0], a[2, 1], a[2, 2]) = (0, 0, 1);
        return a;
    }

    private static double[] Follow(double[,] conditions, double[] misses, PullRule rule)
    {
        bool anchored = rule is PullRule.FactorToAnchor or PullRule.TipTurnToAnchor;
        bool turned = rule is PullRule.TipTurn or PullRule.TipTurnToAnchor;
        Vector<double> right = Vector<double>.Build.Dense([-misses[0], anchored ? -misses[1] : 0, turned ? -misses[2] : 0]);
        return Matrix<double>.Build.DenseOfArray(conditions).Solve(right).AsArray();
    }

    private void FillColumn(int k, int local, TangentLayout layout, Vec2 clamp, bool shared, double[] follow)
    {
        int nodes = _there.Angle.Length;
        Vec2 end = Moved(nodes - 1);
        for (int i = 0; i < nodes; i++)
        {
            Vec2 d = clamp + Moved(i) - end;
            _byUnknown[(2 * i * _count) + k] = d.X;
            _byUnknown[(((2 * i) + 1) * _count) + k] = d.Y;
        }

        Vec2 Moved(int node) => (shared ? By(_there, node, local) : default)
            + (By(_there, node, layout.TipAngle) * follow[0])
            + (By(_there, node, layout.ForceAngle) * follow[1])
            + (By(_there, node, layout.LogForce) * follow[2]);
    }

    private double Sd(double[] row, double[] covariance)
    {
        double sum = 0;
        for (int i = 0; i < _count; i++)
        {
            double inner = 0;
            for (int j = 0; j < _count; j++)
                inner += covariance[(i * _count) + j] * row[j];
            sum += row[i] * inner;
        }

        return Math.Sqrt(Math.Max(0, sum));
    }

    // Main directions of the displacement: G A with covariance A Aᵀ, by the eigenvectors of its Gram matrix.
    private List<Vec2[]> Ways(double[] covariance)
    {
        int nodes = _there.Angle.Length;
        Matrix<double> g = Matrix<double>.Build.Dense(2 * nodes, _count, (i, j) => _byUnknown[(i * _count) + j]);
        double[] factor = Cholesky.Factor(covariance, _count)
            ?? throw new InvalidOperationException("The covariance of the fit is not positive definite.");
        Matrix<double> a = Matrix<double>.Build.Dense(_count, _count, (i, j) => j <= i ? factor[(i * _count) + j] : 0);
        Matrix<double> ga = g * a;
        Evd<double> evd = ga.TransposeThisAndMultiply(ga).Evd(Symmetricity.Symmetric);
        List<Vec2[]> ways = [];
        for (int k = _count - 1; k >= 0 && ways.Count < MostWays; k--)
        {
            double size = evd.EigenValues[k].Real;
            if (size < 1e-8 * evd.EigenValues[_count - 1].Real)
                break;
            Vector<double> way = ga * evd.EigenVectors.Column(k);
            ways.Add([.. Enumerable.Range(0, nodes).Select(i => new Vec2(way[2 * i], way[(2 * i) + 1]))]);
        }

        return ways;
    }
}
