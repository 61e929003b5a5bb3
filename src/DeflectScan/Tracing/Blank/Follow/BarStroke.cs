using DeflectScan.Geometry;
using DeflectScan.Numerics;

namespace DeflectScan.Tracing.Blank;

/// <summary>A smooth piece of a bar, in the rod plane, with its rough width and contrast: what chains are made of.</summary>
/// <param name="PointsMm">In order, a few mm apart.</param>
/// <param name="WidthsMm">Rough width at each point: half level to half level in the search picture.</param>
/// <param name="Contrast">Mean contrast to the weaker side, 8-bit levels.</param>
/// <param name="LengthMm">Along the points.</param>
internal sealed record BarStroke(IReadOnlyList<Vec2> PointsMm, IReadOnlyList<double> WidthsMm, double Contrast, double LengthMm)
{
    private const double EndMm = 45; // stretch that says which way an end points

    /// <summary>Width at the first point, from a straight fit through all widths.</summary>
    public double StartWidthMm { get; } = FitEnds(WidthsMm).Start;

    /// <summary>Width at the last point.</summary>
    public double EndWidthMm { get; } = FitEnds(WidthsMm).End;

    public Vec2 Start => PointsMm[0];

    public Vec2 End => PointsMm[^1];

    /// <summary>Unit direction of travel at the start.</summary>
    public Vec2 StartDirection { get; } = Direction(PointsMm, LengthMm);

    /// <summary>Unit direction of travel at the end.</summary>
    public Vec2 EndDirection { get; } = -Direction([.. PointsMm.Reverse()], LengthMm);

    /// <summary>Turning from start to end in radians, counter-clockwise positive.</summary>
    public double Turn { get; } = TurnBetween(Direction(PointsMm, LengthMm), -Direction([.. PointsMm.Reverse()], LengthMm));

    public BarStroke Reversed() => new([.. PointsMm.Reverse()], [.. WidthsMm.Reverse()], Contrast, LengthMm);

    public static double TurnBetween(Vec2 from, Vec2 to) => Math.Atan2(from.Cross(to), from.Dot(to));

    // Tangent at the first point: chord directions over a growing stretch, taken back to the end itself (a circle's chord
    // over length l leans by half the turning over l).
    private static Vec2 Direction(IReadOnlyList<Vec2> p, double length)
    {
        double reach = Math.Min(EndMm, length / 2);
        Vec2 near = At(p, reach);
        Vec2 far = At(p, Math.Min(2 * reach, length));
        Vec2 chord = (near - p[0]).Normalized();
        double lean = TurnBetween(chord, (far - near).Normalized()) / 2;
        lean = Math.Clamp(lean, -0.2, 0.2);
        (double sin, double cos) = Math.SinCos(-lean);
        return new Vec2((chord.X * cos) - (chord.Y * sin), (chord.X * sin) + (chord.Y * cos));
    }

    private static Vec2 At(IReadOnlyList<Vec2> p, double distance)
    {
        double gone = 0;
        for (int i = 1; i < p.Count; i++)
        {
            double step = p[i].DistanceTo(p[i - 1]);
            if (gone + step >= distance)
                return Vec2.Lerp(p[i - 1], p[i], step > 0 ? (distance - gone) / step : 0);
            gone += step;
        }

        return p[^1];
    }

    private static (double Start, double End) FitEnds(IReadOnlyList<double> widths)
    {
        // Theil's slope over halves: the median of the second half against that of the first, wraps hardly count.
        int half = widths.Count / 2;
        if (half < 3)
            return (OrderStatistics.Middle(widths), OrderStatistics.Middle(widths));
        double first = OrderStatistics.Middle(widths.Take(half));
        double second = OrderStatistics.Middle(widths.Skip(widths.Count - half));
        double slope = (second - first) / 2;
        return (first - slope, second + slope);
    }
}
