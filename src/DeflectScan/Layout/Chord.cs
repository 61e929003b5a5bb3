using DeflectScan.Geometry;

namespace DeflectScan.Layout;

/// <summary>The straight line between two ring points over the blank: the extremes of its distance from the blank's surface.</summary>
internal static class Chord
{
    /// <summary>Largest and smallest distance from the surface (the contract's d), and the smallest signed one (negative: inside or behind the blank).</summary>
    /// <param name="shape">The blank.</param>
    /// <param name="start">First ring point, mm.</param>
    /// <param name="along">Unit vector to the second.</param>
    /// <param name="length">Distance to the second, mm.</param>
    /// <param name="from">Smaller station of both.</param>
    /// <param name="to">Larger station of both.</param>
    /// <param name="sideSign">Sign of an offset along the axis's normal on the guides' side.</param>
    /// <param name="leastCosine">Normals steeper than this to the line's normal call for the search of nearest points.</param>
    public static (Peak Gap, Peak Clearance, Peak Lowest) Extremes(
        BlankShape shape, Vec2 start, Vec2 along, double length, double from, double to, int sideSign, double leastCosine)
    {
        Vec2 across = along.Perpendicular;
        Extremes found = new();
        (int first, int last) = shape.Between(from, to);
        ReadOnlySpan<ShapeSample> samples = shape.Samples;
        bool steep = false;
        for (int i = first - 1; i <= last + 1; i++)
        {
            ShapeSample q = i < first ? shape.Exact(from) : i > last ? shape.Exact(to) : samples[i];
            double cosine = across.Dot(q.Tangent.Perpendicular);
            steep |= Math.Abs(cosine) < leastCosine;
            found.Add(q.S, across.Dot(start - q.Point) / cosine, q.RadiusMm, sideSign);
        }

        if (steep)
            return ByNearest(shape, start, along, length, from, to, sideSign);
        double Offset(double s) => across.Dot(start - shape.Axis.Point(s)) / across.Dot(shape.Axis.Normal(s));
        Peak Refined(Func<double, double> f, Peak best) =>
            Peak.Refine(f, Math.Max(from, best.At - shape.StepMm), Math.Min(to, best.At + shape.StepMm), best);
        Peak gap = Refined(s => Math.Abs(Offset(s)) - shape.RadiusMm(s), found.Gap);
        Peak near = Refined(s => shape.RadiusMm(s) - Math.Abs(Offset(s)), Negative(found.Clearance));
        Peak low = found.Lowest.Value == found.Clearance.Value
            ? near
            : Refined(s => shape.RadiusMm(s) - (Offset(s) * sideSign), Negative(found.Lowest));
        return (gap, Negative(near), Negative(low));
    }

    /// <summary>The same by walking along the line and searching each point's nearest axis point between both stations.</summary>
    private static (Peak Gap, Peak Clearance, Peak Lowest) ByNearest(
        BlankShape shape, Vec2 start, Vec2 along, double length, double from, double to, int sideSign)
    {
        Extremes found = new();
        int steps = Math.Max(16, (int)Math.Ceiling(length / shape.StepMm));
        for (int k = 0; k <= steps; k++)
        {
            Vec2 p = start + (along * (length * k / steps));
            (double s, double offset) = Nearest(shape, p, from, to);
            found.Add(s, offset, shape.RadiusMm(s), sideSign);
        }

        return (found.Gap, found.Clearance, found.Lowest);
    }

    private static (double S, double Offset) Nearest(BlankShape shape, Vec2 p, double from, double to)
    {
        (int first, int last) = shape.Between(from, to);
        ReadOnlySpan<ShapeSample> samples = shape.Samples;
        double best = from;
        double bestSquared = (shape.Axis.Point(from) - p).LengthSquared;
        if ((shape.Axis.Point(to) - p).LengthSquared is var end && end < bestSquared)
            (best, bestSquared) = (to, end);
        for (int i = first; i <= last; i++)
        {
            double squared = (samples[i].Point - p).LengthSquared;
            if (squared < bestSquared)
                (best, bestSquared) = (samples[i].S, squared);
        }

        Peak near = Peak.Refine(
            s => -(shape.Axis.Point(s) - p).Length,
            Math.Max(from, best - shape.StepMm),
            Math.Min(to, best + shape.StepMm),
            new Peak(best, -Math.Sqrt(bestSquared)));
        return (near.At, Math.CopySign(near.Value, shape.Axis.Normal(near.At).Dot(p - shape.Axis.Point(near.At))));
    }

    private static Peak Negative(Peak p) => new(p.At, -p.Value);
}

/// <summary>Running extremes of the distance from the blank's surface.</summary>
internal record struct Extremes()
{
    public Peak Gap { get; private set; } = new(0, double.NegativeInfinity);

    public Peak Clearance { get; private set; } = new(0, double.PositiveInfinity);

    public Peak Lowest { get; private set; } = new(0, double.PositiveInfinity);

    public void Add(double s, double offset, double radius, int sideSign)
    {
        double d = Math.Abs(offset) - radius;
        double signed = (offset * sideSign) - radius;
        if (d > Gap.Value)
            Gap = new(s, d);
        if (d < Clearance.Value)
            Clearance = new(s, d);
        if (signed < Lowest.Value)
            Lowest = new(s, signed);
    }
}
