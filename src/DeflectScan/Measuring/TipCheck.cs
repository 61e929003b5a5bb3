using DeflectScan.Calibration;
using DeflectScan.Findings;
using DeflectScan.Geometry;
using DeflectScan.Measuring.Figures;
using DeflectScan.Photos;
using DeflectScan.Tracing;

namespace DeflectScan.Measuring;

/// <summary>Whether the traced tip can be the rod's: something in front of a blank ends its trace as a tip does.</summary>
internal static class TipCheck
{
    /// <summary>Thicker than this no rod's tip is (common practice, no source), mm; taken a little way from the end.</summary>
    private const double ThickestTipMm = 4;
    private const double FromEndMm = 15;

    /// <summary>How near the cord's first seen point, and its way, must come to the tip-top's ring, mm.</summary>
    private const double CordReachMm = 60;
    private const double CordAsideMm = 15;

    /// <summary>A bent blank's tip points more or less the way the cord pulls; least cosine of the angle between, of 120 degrees. What goes back along the blank is no cord.</summary>
    private const double LeastForward = -0.5;

    /// <summary>How far from the ring point, across itself, a cord's line passes, one standard uncertainty in mm: knot, ring and tube are some mm wide (common practice, no source).</summary>
    private const double TieSdMm = 2.5;

    /// <summary>Below this sine of the angle between cord and line their crossing says nothing.</summary>
    private const double LeastSine = 0.2;

    /// <summary>A thin line so near the edge of a bar is not seen by itself, px.</summary>
    private const double BesidePx = 2;

    /// <summary>So many standard uncertainties are more than chance.</summary>
    private const double Sure = 2;

    /// <summary>A tip so near the frame's edge, px, cannot be told from one that lies beyond it: what an edge's background needs.</summary>
    private const double FramePx = 5;

    /// <summary>
    /// Refusal of a tip that would lie outside the photo: a blank that the frame cuts off is carried on beyond it by what is known of its bend, and there nothing is seen.
    /// </summary>
    /// <param name="trace">Axis and contacts.</param>
    /// <param name="plane">The rod's plane.</param>
    /// <param name="photo">The upright photo.</param>
    /// <param name="isMarked">Whether a person marked the tip.</param>
    public static Finding? OutsideFrame(PlaneTrace trace, RodPlane plane, UprightPhoto photo, bool isMarked)
    {
        bool Outside(Vec2 mm) =>
            plane.ToPhoto(mm) is var px && (px.X < FramePx || px.Y < FramePx || px.X > photo.Bgr.Width - 1 - FramePx || px.Y > photo.Bgr.Height - 1 - FramePx);
        return !isMarked && (Outside(trace.ContactsMm[^1]) || Outside(trace.Axis.Curve.Point(0)))
            ? Finding.Refuse(FindingCode.TipOutsideFrame, "The rod's tip lies outside the photo: step back or turn the camera so that the whole bend is in it.")
            : null;
    }

    /// <summary>What a person should look at; null where the tip shows as one.</summary>
    /// <param name="trace">Axis and contacts.</param>
    /// <param name="line">The line: where its end beyond the tip-top was not seen, the cord must show the tip.</param>
    /// <param name="cord">The tie-off cord, if seen.</param>
    /// <param name="pxMm">Size of a pixel at the tip.</param>
    /// <param name="isMarked">Whether a person marked the tip.</param>
    public static Finding? Of(PlaneTrace trace, LineTrace line, CordTrace? cord, double pxMm, bool isMarked)
    {
        if (isMarked)
            return null;
        if (TooThick(trace.Axis) is { } thick)
            return thick;
        if (line.IsTipAtLineEnd && !Meets(cord, trace.ContactsMm[^1], trace.Axis))
            return AtTip(FindingCode.LineNotSeen, "Neither the line that hangs from the tip-top nor the cord was seen there: look at the tip-top's ring point on the overlay, and mark it if it is off.");
        if (IsHidden(trace, line, cord, pxMm) && line.TipReadSdMm is null)
        {
            return AtTip(
                FindingCode.LineNotSeen, "The line that hangs from the tip-top cannot be told from the edge of the cord, or of another bar, beside it: look at the tip-top's ring point on the overlay, and mark it if it is off.");
        }

        return cord is not null && MissesBy(cord, trace, line.Rings[^1].AlongSdMm) is { } miss
            ? AtTip(FindingCode.LineNotSeen, $"The cord pulls {miss:0} mm from where the line seems to leave the tip-top, farther than both can be off: look at the tip-top's ring point on the overlay, and mark it if it is off.")
            : null;
    }

    /// <summary>
    /// Where the hanging line cannot be told from the cord's edge, it says nothing of where the tip-top's ring is: what was read of the ring alone does.
    /// </summary>
    public static LineTrace ByReading(PlaneTrace trace, LineTrace line, CordTrace? cord, double pxMm)
    {
        if (!IsHidden(trace, line, cord, pxMm) || line.TipReadSdMm is not { } read)
            return line;
        RingSighting tip = line.Rings[^1];
        return line with { Rings = [.. line.Rings.SkipLast(1), tip with { AlongSdMm = Math.Sqrt((tip.AlongSdMm * tip.AlongSdMm) + (read * read)) }] };
    }

    private static bool IsHidden(PlaneTrace trace, LineTrace line, CordTrace? cord, double pxMm) =>
        cord is not null && line.HangEndMm is { } end && RunsAlong(cord, trace.ContactsMm[^1], end, pxMm);

    /// <summary>The same of a rod at rest, whose line and cord show nothing: what looks like it must not go on beyond its end.</summary>
    public static Finding? AtRest(UprightPhoto photo, RodPlane plane, BlankAxis axis, bool isMarked)
    {
        if (isMarked)
            return null;
        return TooThick(axis) ?? (BeyondTip.GoesOn(photo, plane, axis)
            ? AtTip(FindingCode.TipOutsideFrame, "Something like the blank goes on beyond the end of its trace, which may not be the tip: clear what stands there, or mark the tip.")
            : null);
    }

    private static Finding AtTip(FindingCode code, string message) => Finding.Review(code, message) with { Places = [FindingPlace.At(0)] };

    private static Finding? TooThick(BlankAxis axis)
    {
        double diameter = 2 * axis.RadiusMm(FromEndMm);
        return diameter > ThickestTipMm
            ? AtTip(
                FindingCode.TipOutsideFrame,
                $"The blank is still {diameter:0.0} mm thick where its trace ends, so its tip was not seen: clear what stands in front of it, or mark the tip.")
            : null;
    }

    /// <summary>
    /// How far along the last piece of line the cord's own line passes the tip-top, where that is more than both leave open: the
    /// cord is tied to the tip-top's ring, or to its tube or the blank, on which the ring stands some mm high.
    /// </summary>
    private static double? MissesBy(CordTrace cord, PlaneTrace trace, double alongSdMm)
    {
        Vec2 way = (cord.FarMm - cord.NearMm).Normalized();
        Vec2 ring = trace.ContactsMm[^1];
        Vec2 foot = trace.Axis.Curve.Point(trace.Axis.Curve.Nearest(ring).S);
        double sine = Math.Abs(way.Cross((ring - trace.ContactsMm[^2]).Normalized()));
        if (sine < LeastSine)
            return null;
        (double atRing, double atFoot) = (way.Cross(ring - cord.NearMm), way.Cross(foot - cord.NearMm));
        double miss = atRing * atFoot < 0 ? 0 : Math.Min(Math.Abs(atRing), Math.Abs(atFoot)) / sine;
        return miss > Sure * Math.Sqrt((alongSdMm * alongSdMm) + (TieSdMm * TieSdMm / (sine * sine))) ? miss : null;
    }

    /// <summary>Whether what passed for the hanging line keeps to the edge of a bar: nearer than that a photo does not show a thin line beside it.</summary>
    private static bool RunsAlong(CordTrace cord, Vec2 contact, Vec2 end, double pxMm)
    {
        Vec2 way = (cord.FarMm - cord.NearMm).Normalized();
        double within = (cord.WidthMm / 2) + (BesidePx * pxMm);
        return Math.Abs(way.Cross(contact - cord.NearMm)) < within && Math.Abs(way.Cross(end - cord.NearMm)) < within;
    }

    private static bool Meets(CordTrace? cord, Vec2 tip, BlankAxis axis)
    {
        if (cord is null)
            return false;
        Vec2 way = (cord.FarMm - cord.NearMm).Normalized();
        return cord.NearMm.DistanceTo(tip) < CordReachMm && Math.Abs(way.Cross(tip - cord.NearMm)) < CordAsideMm
            && way.Dot(-axis.Curve.Tangent(0)) > LeastForward;
    }
}
