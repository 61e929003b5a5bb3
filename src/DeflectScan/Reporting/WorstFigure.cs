using DeflectScan.Geometry;
using DeflectScan.Reporting.Drawing;
using DeflectScan.Tracing;

namespace DeflectScan.Reporting;

/// <summary>The figure by which the running pair follows worst, of those that are not in doubt: headline, picture and strip name this one.</summary>
/// <param name="Pair">The pair.</param>
/// <param name="IsClearance">Its clearance (guides outside the bend), else its bow.</param>
internal sealed record WorstFigure(IntervalReport Pair, bool IsClearance)
{
    /// <summary>Null where every running pair is in doubt.</summary>
    public static WorstFigure? Of(Measurement m) => m.SureWorst() is { } pair ? new WorstFigure(pair, m.Side == BendSide.Outside) : null;

    public string Name => IsClearance ? "clearance" : "bow";

    public MeasuredLength Length => IsClearance ? Pair.Clearance : Pair.Bow;

    /// <summary>Where on the blank it is, mm from the tip.</summary>
    public double AtMm => IsClearance ? Pair.ClearanceAtMm : Pair.BowAtMm;

    /// <summary>Its both ends on a drawn rod: a clearance from the blank's surface to the line, a bow from the blank's centre to the chord.</summary>
    public (Vec2 From, Vec2 To) Ends(RodSketch rod)
    {
        if (IsClearance)
            return rod.Across(Pair, AtMm);
        (Vec2 a, Vec2 b, Vec2 at) = (rod.OnAxis(Pair.From), rod.OnAxis(Pair.To), rod.Point(AtMm));
        Vec2 along = (b - a).Normalized();
        return (at, a + (along * along.Dot(at - a)));
    }

    /// <summary>"bow 6.0 mm".</summary>
    public string Short(LengthUnit unit) => $"{Name} {UnitsInSentences.Bare(Length.Mm, unit)} {UnitsInSentences.Name(unit)}";

    /// <summary>"bow 6.0 ± 0.1 mm".</summary>
    public string Whole(LengthUnit unit) => $"{Name} {UnitsInSentences.Figure(Length, unit)}";
}
