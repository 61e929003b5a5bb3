using DeflectScan.Geometry;
using DeflectScan.Numerics;

namespace DeflectScan.Mechanics;

/// <summary>
/// A coarse bend that cannot fail to settle: the least potential energy ∫ ½EI(θ' − κ0)² − R·t ds over a broken line, by Newton steps with
/// line search from the unloaded shape (dead loads have this local energy; R is the sum of the forces between tip and s). It ends in a
/// stable bend near the unloaded one, which the fine shooting then starts from.
/// </summary>
internal sealed class CoarseBend
{
    private const int Pieces = 60;
    private const double LongestTurn = 0.4;

    private readonly double _h;
    private readonly double[] _ei = new double[Pieces];
    private readonly double[] _natural = new double[Pieces];
    private readonly Vec2[] _carried = new Vec2[Pieces];
    private readonly double[] _angle = new double[Pieces + 1];

    public CoarseBend(BlankModel blank, Clamp clamp, IReadOnlyList<ArmForce> arms)
    {
        // Index 0 is the clamp; piece i lies between nodes i and i + 1.
        _h = blank.LengthMm / Pieces;
        Vec2 sum = default;
        for (int i = Pieces - 1; i >= 0; i--)
        {
            double station = blank.LengthMm - ((i + 0.5) * _h);
            _ei[i] = blank.StiffnessNmm2(station);
            _natural[i] = blank.NaturalCurvaturePerMm(station);
            sum += clamp.Down * (blank.WeightPerMmN(station) * _h);
            _carried[i] = sum;
            foreach (PointWeight p in blank.PointWeights.Where(p => p.StationMm < station))
                _carried[i] += clamp.Down * p.WeightN;
            foreach (ArmForce a in arms.Where(a => a.StationMm < station))
                _carried[i] += a.ForceN;
        }

        _angle[0] = clamp.AngleRad;
        for (int i = 0; i < Pieces; i++)
            _angle[i + 1] = _angle[i] + (_natural[i] * _h);
    }

    public double TipAngleRad => _angle[Pieces];

    /// <summary>The tip from the clamp, mm.</summary>
    public Vec2 TipFromClamp
    {
        get
        {
            Vec2 sum = default;
            for (int i = 0; i < Pieces; i++)
                sum += Tangent(_angle, i) * _h;
            return sum;
        }
    }

    /// <summary>Settles under the force, from the present bend.</summary>
    public void Settle(Vec2 force)
    {
        double[] slope = new double[Pieces];
        double[] diagonal = new double[Pieces];
        double[] beside = new double[Pieces];
        double[] trial = new double[Pieces + 1];
        double energy = Energy(_angle, force);
        double lift = 0;
        for (int turn = 0; turn < 80; turn++)
        {
            Linearise(force, slope, diagonal, beside);
            double[]? step = Tridiagonal.Solve(slope, diagonal, beside, lift);
            if (step is null)
            {
                lift = Math.Max(4 * lift, 1e-3 * diagonal.Average());
                continue;
            }

            double longest = step.Max(Math.Abs);
            double share = Math.Min(1, LongestTurn / Math.Max(longest, 1e-300));
            bool fell = false;
            for (int halving = 0; halving < 30 && !fell; halving++, share /= 2)
            {
                for (int i = 0; i < Pieces; i++)
                    trial[i + 1] = _angle[i + 1] + (share * step[i]);
                trial[0] = _angle[0];
                double lower = Energy(trial, force);
                if (lower <= energy + (1e-14 * Math.Abs(energy)))
                {
                    fell = true;
                    energy = lower;
                    trial.CopyTo(_angle, 0);
                }
            }

            lift = lift < 1e-12 * diagonal[0] ? 0 : lift / 8;
            if (!fell || longest < 1e-9)
                return;
        }
    }

    private static Vec2 Tangent(double[] angle, int piece)
    {
        (double sin, double cos) = Math.SinCos((angle[piece] + angle[piece + 1]) / 2);
        return new Vec2(cos, sin);
    }

    private double Energy(double[] angle, Vec2 force)
    {
        double sum = 0;
        for (int i = 0; i < Pieces; i++)
        {
            double bend = ((angle[i + 1] - angle[i]) / _h) - _natural[i];
            sum += _h * ((0.5 * _ei[i] * bend * bend) - (_carried[i] + force).Dot(Tangent(angle, i)));
        }

        return sum;
    }

    private void Linearise(Vec2 force, double[] slope, double[] diagonal, double[] beside)
    {
        Array.Clear(slope);
        Array.Clear(diagonal);
        Array.Clear(beside);
        for (int i = 0; i < Pieces; i++)
        {
            double moment = _ei[i] * (((_angle[i + 1] - _angle[i]) / _h) - _natural[i]);
            Vec2 t = Tangent(_angle, i);
            Vec2 r = _carried[i] + force;
            double pull = -0.5 * _h * r.Dot(t.Perpendicular);
            double curve = 0.25 * _h * r.Dot(t);
            double k = _ei[i] / _h;

            // Unknown j stands for node j + 1.
            slope[i] += moment + pull;
            diagonal[i] += k + curve;
            if (i == 0)
                continue;
            slope[i - 1] += -moment + pull;
            diagonal[i - 1] += k + curve;
            beside[i] += -k + curve;
        }
    }
}
