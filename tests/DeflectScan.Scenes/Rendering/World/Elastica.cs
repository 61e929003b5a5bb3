using DeflectScan.Geometry;

namespace DeflectScan.Scenes.Rendering.World;

/// <summary>
/// Large-deflection solution of a clamped, inextensible, tapered blank pulled at its tip by a cord: EI(s) dtheta/ds = (tip - P) x F
/// (Euler's elastica with variable stiffness). Integrated from the tip, where the moment is zero and the tangent is prescribed, back
/// to the clamp; the force is the one for which the tangent there meets the clamp's. No own weight, no curvature at rest.
/// </summary>
public static class Elastica
{
    /// <summary>The bent blank, pointing right, with the butt end at (0, 0).</summary>
    /// <param name="taper">Diameter and stiffness.</param>
    /// <param name="clampFrontMm">Station where the clamp ends; straight behind it.</param>
    /// <param name="buttDeg">Elevation of the clamped part, degrees above horizontal.</param>
    /// <param name="tipTurnDeg">Turn from the clamp to the tip, positive downwards.</param>
    /// <param name="forceDeg">Direction of the cord's pull in the plane, degrees counter-clockwise from +x (-90: straight down).</param>
    /// <param name="stepMm">Largest integration step.</param>
    /// <exception cref="ArgumentException">No force gives that turn: the tip would have to turn past the cord.</exception>
    public static BentBlank Solve(Taper taper, double clampFrontMm, double buttDeg, double tipTurnDeg, double forceDeg, double stepMm = 1)
    {
        double butt = Radians(buttDeg);
        double tip = butt - Radians(tipTurnDeg);
        double force = Radians(forceDeg);
        if (tip - force <= 0)
            throw new ArgumentException("The tip cannot turn past the cord that pulls it.", nameof(tipTurnDeg));
        int steps = (int)Math.Ceiling((taper.LengthMm - clampFrontMm) / stepMm);

        // At every half step, from the clamp.
        double[] stiffness = [.. Enumerable.Range(0, (2 * steps) + 1).Select(i => taper.Stiffness(clampFrontMm + ((taper.LengthMm - clampFrontMm) * i / (2 * steps))))];
        double low = 0;
        double high = 1e-10;
        while (AngleAtClamp(high) < butt)
        {
            low = high;
            high *= 1.3;
            if (high > 1)
                throw new ArgumentException("No force gives that turn.", nameof(tipTurnDeg));
        }

        for (int i = 0; i < 60 && high - low > 1e-15 * high; i++)
        {
            double middle = (low + high) / 2;
            if (AngleAtClamp(middle) < butt)
                low = middle;
            else
                high = middle;
        }

        double pull = (low + high) / 2;
        return new BentBlank(taper, clampFrontMm, Integrate(pull), pull, force, mirrored: false);

        double AngleAtClamp(double f) => Integrate(f)[0].Angle;

        (double S, Vec2 P, double Angle)[] Integrate(double f) => FromTip(taper.LengthMm, clampFrontMm, stiffness, tip, f, force);
    }

    private static (double S, Vec2 P, double Angle)[] FromTip(double length, double clamp, double[] stiffness, double tipAngle, double pull, double direction)
    {
        int steps = (stiffness.Length - 1) / 2;
        double h = (length - clamp) / steps;
        Vec2 f = new Vec2(Math.Cos(direction), Math.Sin(direction)) * pull;
        var nodes = new (double S, Vec2 P, double Angle)[steps + 1];
        Vec2 p = default;
        double angle = tipAngle;
        nodes[steps] = (length, p, angle);
        for (int i = steps - 1; i >= 0; i--)
        {
            (double start, double half, double end) = (stiffness[(2 * i) + 2], stiffness[(2 * i) + 1], stiffness[2 * i]);
            (Vec2 d1, double a1) = Slope(p, angle, start);
            (Vec2 d2, double a2) = Slope(p + (d1 * (h / 2)), angle + (a1 * h / 2), half);
            (Vec2 d3, double a3) = Slope(p + (d2 * (h / 2)), angle + (a2 * h / 2), half);
            (Vec2 d4, double a4) = Slope(p + (d3 * h), angle + (a3 * h), end);
            p += (d1 + (d2 * 2) + (d3 * 2) + d4) * (h / 6);
            angle += (a1 + (2 * a2) + (2 * a3) + a4) * h / 6;
            nodes[i] = (clamp + (i * h), p, angle);
        }

        return nodes;

        // Backwards along s; the tip is the origin here, so the lever from P to the tip is -P.
        (Vec2 D, double A) Slope(Vec2 at, double theta, double ei) =>
            (-new Vec2(Math.Cos(theta), Math.Sin(theta)), -(-at).Cross(f) / ei);
    }

    private static double Radians(double degrees) => degrees * Math.PI / 180;
}
