using DeflectScan.Calibration;
using DeflectScan.Geometry;
using DeflectScan.Tracing;

namespace DeflectScan.Measuring.Figures;

/// <summary>
/// What was traced, expressed in one rod plane: the axis with station 0 at the tip-top's ring, and the ring contacts in mm.
/// Carrying a trace to another plane goes through the photo's px, which is where it was seen.
/// </summary>
/// <param name="Axis">Axis with s = 0 at the foot of the tip-top's contact.</param>
/// <param name="ContactsMm">Ring contacts from the reel to the tip-top.</param>
internal sealed record PlaneTrace(BlankAxis Axis, IReadOnlyList<Vec2> ContactsMm)
{
    /// <summary>Sets station 0 of <paramref name="axis"/> at the foot of the last contact.</summary>
    public static PlaneTrace AtTip(BlankAxis axis, IReadOnlyList<Vec2> contactsMm) =>
        new(axis.WithTipAt(axis.Curve.Nearest(contactsMm[^1], 0).S), contactsMm);

    /// <summary>The same px seen in another plane: every knot, diameter and contact.</summary>
    public PlaneTrace CarriedTo(RodPlane to, RodPlane from)
    {
        Vec2 Carry(Vec2 p) => to.ToPlane(from.ToPhoto(p));
        double Across(double s, double diameter)
        {
            Vec2 half = Axis.Curve.Normal(s) * (diameter / 2);
            Vec2 at = Axis.Curve.Point(s);
            return Carry(at + half).DistanceTo(Carry(at - half));
        }

        BlankAxis carried = Axis with
        {
            Curve = ArcCurve.Through([.. Axis.Curve.Knots.Select(Carry)]),
            DiametersMm = [.. Axis.DiametersMm.Select((d, i) => Across(Axis.DiameterStations[i], d))],
        };
        double stretch = carried.Curve.Length / Axis.Curve.Length;
        return AtTip(
            carried with { DiameterStations = [.. carried.DiameterStations.Select(s => s * stretch)] },
            [.. ContactsMm.Select(Carry)]);
    }

    /// <summary>The same trace with one contact moved by a vector (mm in this plane).</summary>
    public PlaneTrace WithContactMoved(int ring, Vec2 byMm)
    {
        Vec2[] moved = [.. ContactsMm];
        moved[ring] += byMm;
        return ring == moved.Length - 1 ? AtTip(Axis, moved) : this with { ContactsMm = moved };
    }
}
