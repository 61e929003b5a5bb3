using DeflectScan.Calibration;
using DeflectScan.Findings;
using DeflectScan.Geometry;
using DeflectScan.Photos;
using DeflectScan.Tracing;

namespace DeflectScan;

/// <summary>Whether the traced tip can be the rod's: something in front of a blank ends its trace as a tip does.</summary>
internal static class TipCheck
{
    /// <summary>Thicker than this no rod's tip is (common practice, no source), mm; taken a little way from the end.</summary>
    private const double ThickestTipMm = 4;
    private const double FromEndMm = 15;

    /// <summary>How near the cord's first seen point, and its way, must come to the tip-top's ring, mm.</summary>
    private const double CordReachMm = 60;
    private const double CordAsideMm = 15;

    /// <summary>What a person should look at; null where the tip shows as one.</summary>
    /// <param name="trace">Axis and contacts.</param>
    /// <param name="line">The line: where its end beyond the tip-top was not seen, the cord must show the tip.</param>
    /// <param name="cord">The tie-off cord, if seen.</param>
    /// <param name="isMarked">Whether a person marked the tip.</param>
    public static Finding? Of(PlaneTrace trace, LineTrace line, CordTrace? cord, bool isMarked)
    {
        if (isMarked)
            return null;
        if (TooThick(trace.Axis) is { } thick)
            return thick;
        return line.IsTipAtLineEnd && !Meets(cord, trace.ContactsMm[^1])
            ? Finding.Review(FindingCode.LineNotSeen, "Neither the line that hangs from the tip-top nor the cord was seen there: check the tip-top's ring point.")
            : null;
    }

    /// <summary>The same of a rod at rest, whose line and cord show nothing: what looks like it must not go on beyond its end.</summary>
    public static Finding? AtRest(UprightPhoto photo, RodPlane plane, BlankAxis axis, bool isMarked)
    {
        if (isMarked)
            return null;
        return TooThick(axis) ?? (BeyondTip.GoesOn(photo, plane, axis)
            ? Finding.Review(FindingCode.TipOutsideFrame, "Something like the blank goes on beyond the end of its trace, which may not be the tip: clear what stands there, or mark the tip.")
            : null);
    }

    private static Finding? TooThick(BlankAxis axis)
    {
        double diameter = 2 * axis.RadiusMm(FromEndMm);
        return diameter > ThickestTipMm
            ? Finding.Review(
                FindingCode.TipOutsideFrame,
                $"The blank is still {diameter:0.0} mm thick where its trace ends, so its tip was not seen: clear what stands in front of it, or mark the tip.")
            : null;
    }

    private static bool Meets(CordTrace? cord, Vec2 tip)
    {
        if (cord is null)
            return false;
        Vec2 way = (cord.FarMm - cord.NearMm).Normalized();
        return cord.NearMm.DistanceTo(tip) < CordReachMm && Math.Abs(way.Cross(tip - cord.NearMm)) < CordAsideMm;
    }
}
