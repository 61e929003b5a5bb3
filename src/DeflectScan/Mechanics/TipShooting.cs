using DeflectScan.Geometry;

namespace DeflectScan.Mechanics;

/// <summary>What one integration from the tip ends with at the clamp, and how that changes with the tip's angle and the force's.</summary>
/// <param name="AngleRad">Angle at the clamp.</param>
/// <param name="FromTip">The clamp's place with the tip at the origin, mm.</param>
/// <param name="AngleByTip">d angle / d tip angle, the force held.</param>
/// <param name="AngleByForce">d angle / d force direction.</param>
/// <param name="PlaceByTip">d place / d tip angle, mm a radian.</param>
/// <param name="PlaceByForce">d place / d force direction, mm a radian.</param>
internal readonly record struct ClampEnd(
    double AngleRad, Vec2 FromTip, double AngleByTip, double AngleByForce, Vec2 PlaceByTip, Vec2 PlaceByForce);

/// <summary>
/// Integrates the elastica from the tip, where the moment is known to be zero, to the clamp: with s from the tip, t the unit tangent
/// towards the tip and R the sum of forces between tip and s, θ' = −(κ0 + M/EI), M' = t × R, r' = −t. Classical fourth-order Runge-Kutta;
/// the derivatives by the tip's angle and the force's direction are those of the same scheme, exact to rounding.
/// </summary>
internal sealed class TipShooting(BendGrid grid, Vec2 down)
{
    // State: θ, M, x, y, then the same four differentiated by the tip's angle, then by the force's direction.
    private const int Size = 12;

    /// <param name="tipAngleRad">Tangent angle at the tip.</param>
    /// <param name="forceN">Magnitude of the force at the tip.</param>
    /// <param name="forceAngleRad">Its direction.</param>
    /// <param name="trace">Where to keep θ, M, x and y at every step's end (4 a node), or empty.</param>
    public ClampEnd Run(double tipAngleRad, double forceN, double forceAngleRad, Span<double> trace)
    {
        Vec2 force = new(forceN * Math.Cos(forceAngleRad), forceN * Math.Sin(forceAngleRad));
        Vec2 forceTurned = force.Perpendicular;
        Span<double> y = stackalloc double[Size];
        Span<double> k1 = stackalloc double[Size];
        Span<double> k2 = stackalloc double[Size];
        Span<double> k3 = stackalloc double[Size];
        Span<double> k4 = stackalloc double[Size];
        Span<double> at = stackalloc double[Size];
        y.Clear();
        y[0] = tipAngleRad;
        y[4] = 1;
        int arm = 0;
        Vec2 carried = force;
        for (int i = 0; i <= grid.Steps; i++)
        {
            carried += grid.NodeForce[i];
            for (; arm < grid.NodeArmForces.Length && grid.NodeArmForces[arm].Node == i; arm++)
            {
                carried += grid.NodeArmForces[arm].ForceN;
                AddArmMoment(y, grid.NodeArmForces[arm].ForceN * grid.NodeArmForces[arm].ArmMm);
            }

            if (!trace.IsEmpty)
                y[..4].CopyTo(trace.Slice(4 * i, 4));
            if (i == grid.Steps)
                break;
            double h = grid.Stations[i + 1] - grid.Stations[i];
            Rates(y, 3 * i, carried, forceTurned, k1);
            Step(y, k1, h / 2, at);
            Rates(at, (3 * i) + 1, carried, forceTurned, k2);
            Step(y, k2, h / 2, at);
            Rates(at, (3 * i) + 1, carried, forceTurned, k3);
            Step(y, k3, h, at);
            Rates(at, (3 * i) + 2, carried, forceTurned, k4);
            for (int j = 0; j < Size; j++)
                y[j] += h / 6 * (k1[j] + (2 * (k2[j] + k3[j])) + k4[j]);
        }

        return new ClampEnd(y[0], new Vec2(y[2], y[3]), y[4], y[8], new Vec2(y[6], y[7]), new Vec2(y[10], y[11]));
    }

    private static void Step(ReadOnlySpan<double> y, ReadOnlySpan<double> k, double h, Span<double> at)
    {
        for (int j = 0; j < Size; j++)
            at[j] = y[j] + (h * k[j]);
    }

    // n × f of an arm along the normal n = (−sin θ, cos θ).
    private static void AddArmMoment(Span<double> y, Vec2 moment)
    {
        (double sin, double cos) = Math.SinCos(y[0]);
        double slope = (-cos * moment.Y) + (sin * moment.X);
        y[1] += (-sin * moment.Y) - (cos * moment.X);
        y[5] += slope * y[4];
        y[9] += slope * y[8];
    }

    private void Rates(ReadOnlySpan<double> y, int row, Vec2 carried, Vec2 forceTurned, Span<double> k)
    {
        Vec2 r = carried + (down * grid.Weight[row]);
        double c = grid.Flexibility[row];
        (double sin, double cos) = Math.SinCos(y[0]);
        double turn = -((sin * r.Y) + (cos * r.X));
        k[0] = -(grid.Natural[row] + (c * y[1]));
        k[1] = (cos * r.Y) - (sin * r.X);
        k[2] = -cos;
        k[3] = -sin;
        k[4] = -c * y[5];
        k[5] = turn * y[4];
        k[6] = sin * y[4];
        k[7] = -cos * y[4];
        k[8] = -c * y[9];
        k[9] = (turn * y[8]) + (cos * forceTurned.Y) - (sin * forceTurned.X);
        k[10] = sin * y[8];
        k[11] = -cos * y[8];
    }
}
