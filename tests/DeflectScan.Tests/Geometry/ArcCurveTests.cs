using DeflectScan.Geometry;

namespace DeflectScan.Tests.Geometry;

/// <summary>
/// Curves of exactly known length and curvature: closed forms recomputed at high precision; Fresnel integrals after Abramowitz and Stegun 7.3,
/// table 7.7 (from memory, recomputed). Each curve is drawn a little beyond the part in question, as a natural spline flattens its very ends.
/// </summary>
public class ArcCurveTests
{
    [Theory]
    [InlineData("circle", 1.5, 1 / 1.2, 1 / 1.2)]
    [InlineData("clothoid", 2, 0, 2)]
    [InlineData("parabola", 1.1477935747, 1, 0.353553390593)]
    [InlineData("ellipse", 2.42211205514, 2, 0.25)]
    [InlineData("catenary", 1.17520119364, 1, 0.419974341614)]
    [InlineData("spiral", 4.45886865438, 0.980580675691, 0.523128113)]
    [InlineData("sine", 3.82019778903, 0, 0)]
    public void LengthsAndEndCurvaturesAreThoseOfTheFormula(string name, double length, double curvatureAtStart, double curvatureAtEnd)
    {
        (Func<double, Vec2> at, double to) = Formula(name);
        ArcCurve curve = Draw(at, to);
        double s0 = curve.Nearest(at(0)).S;
        double s1 = curve.Nearest(at(to)).S;
        Assert.Equal(length, s1 - s0, 2e-8);
        Assert.Equal(curvatureAtStart, Math.Abs(curve.Curvature(s0)), 2e-5);
        Assert.Equal(curvatureAtEnd, Math.Abs(curve.Curvature(s1)), 2e-5);
        Assert.True(curve.Point(s1).DistanceTo(at(to)) < 1e-9);
    }

    [Fact]
    public void TheCirclesEndChordAndSagittaAgree()
    {
        (Func<double, Vec2> at, double to) = Formula("circle");
        ArcCurve curve = Draw(at, to);
        double s0 = curve.Nearest(at(0)).S;
        Vec2 end = curve.Point(s0 + 1.5);
        Assert.Equal(1.138781543, end.X, 1e-9);
        Assert.Equal(0.8216131651, end.Y, 1e-9);
        Assert.Equal(1.404233455, end.DistanceTo(curve.Point(s0)), 1e-9);
        Vec2 middle = (end + curve.Point(s0)) / 2;
        Assert.Equal(0.2268442566, curve.Point(s0 + 0.75).DistanceTo(middle), 1e-9);
    }

    [Fact]
    public void TheClothoidsEndAgrees()
    {
        (Func<double, Vec2> at, double to) = Formula("clothoid");
        Assert.Equal(1.33519369629, at(to).X, 1e-9);
        Assert.Equal(0.997623711325, at(to).Y, 1e-9);
        ArcCurve curve = Draw(at, to);
        double s0 = curve.Nearest(at(0)).S;
        Assert.Equal(1.2, curve.Curvature(s0 + 1.2), 1e-6);
        Vec2 tangent = curve.Tangent(s0 + 2);
        Assert.Equal(2, Math.Atan2(tangent.Y, tangent.X), 1e-6);
    }

    [Fact]
    public void TheElasticasTipAgrees()
    {
        // The uniform cantilever under a perpendicular tip load of 2 EI/L²: root curvature, tip place and angle from elliptic integrals.
        (List<Vec2> points, double angle) = Elastica(2, 1.678716558, 4000);
        Assert.Equal(0.8393582791746794, points[^1].X, 1e-8);
        Assert.Equal(0.4934574803964408, points[^1].Y, 1e-8);
        Assert.Equal(0.781749832, angle, 1e-8);
        ArcCurve curve = ArcCurve.Through(points);
        Assert.Equal(1, curve.Length, 1e-8);
        Assert.Equal(0, curve.Curvature(1), 1e-6);
        Assert.Equal(2 * (0.8393582791746794 - curve.Point(0.5).X), curve.Curvature(0.5), 1e-5);
    }

    [Fact]
    public void AProjectionReturnsThePlaceAndTheOffset()
    {
        (Func<double, Vec2> at, double to) = Formula("ellipse");
        ArcCurve curve = Draw(at, to);
        Random random = new(5);
        for (int i = 0; i < 200; i++)
        {
            double s = 0.3 + ((curve.Length - 0.6) * random.NextDouble());
            double offset = (random.NextDouble() - 0.5) * 0.4;
            Vec2 p = curve.Point(s) + (curve.Normal(s) * offset);
            (double found, double across) = curve.Nearest(p);
            Assert.Equal(s, found, 1e-7);
            Assert.Equal(offset, across, 1e-9);
        }
    }

    private static ArcCurve Draw(Func<double, Vec2> at, double to) =>
        ArcCurve.Through([.. Enumerable.Range(-60, 3121).Select(i => at(to * i / 3000))]);

    private static (Func<double, Vec2> At, double To) Formula(string name) => name switch
    {
        "circle" => (s => new(1.2 * Math.Sin(s / 1.2), 1.2 * (1 - Math.Cos(s / 1.2))), 1.5),
        "clothoid" => (Clothoid, 2),
        "parabola" => (x => new(x, x * x / 2), 1),
        "ellipse" => (u => new(2 * Math.Cos(u), Math.Sin(u)), Math.PI / 2),
        "catenary" => (x => new(x, Math.Cosh(x)), 1),
        "spiral" => (t => new Vec2(Math.Cos(t), Math.Sin(t)) * Math.Exp(0.2 * t), Math.PI),
        "sine" => (x => new(x, Math.Sin(x)), Math.PI),
        _ => throw new ArgumentOutOfRangeException(nameof(name)),
    };

    private static Vec2 Clothoid(double s)
    {
        // ∫ cos(u²/2), ∫ sin(u²/2) from 0 to s, by their power series.
        double x = 0, y = 0;
        double term = s;
        for (int k = 0; k < 40; k++)
        {
            double value = term / ((2 * k) + 1);
            if (k % 2 == 0)
                x += k % 4 == 0 ? value : -value;
            else
                y += k % 4 == 1 ? value : -value;
            term *= s * s / 2 / (k + 1);
        }

        return new Vec2(x, y);
    }

    private static (List<Vec2> Points, double Angle) Elastica(double load, double rootCurvature, int steps)
    {
        double h = 1.0 / steps;
        double[] state = [0, 0, 0, rootCurvature];
        List<Vec2> points = [new(0, 0)];
        for (int i = 0; i < steps; i++)
        {
            double[] k1 = Slope(state);
            double[] k2 = Slope(Step(state, k1, h / 2));
            double[] k3 = Slope(Step(state, k2, h / 2));
            double[] k4 = Slope(Step(state, k3, h));
            for (int j = 0; j < 4; j++)
                state[j] += h / 6 * (k1[j] + (2 * k2[j]) + (2 * k3[j]) + k4[j]);
            points.Add(new(state[0], state[1]));
        }

        return (points, state[2]);
        double[] Slope(double[] v) => [Math.Cos(v[2]), Math.Sin(v[2]), v[3], -load * Math.Cos(v[2])];
        static double[] Step(double[] v, double[] k, double d) => [.. v.Select((x, j) => x + (d * k[j]))];
    }
}
