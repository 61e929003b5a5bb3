using DeflectScan.Calibration;
using DeflectScan.Findings;
using DeflectScan.Photos;
using DeflectScan.Tracing.Reading;
using DeflectScan.Tracing.Rings;

namespace DeflectScan.Tracing.Line;

/// <summary>Finds the line, the guides' ring points and the tip-top's on a photo whose blank is traced.</summary>
public static class LineTracer
{
    /// <summary>
    /// Traces the line from the tip-top to before the first guide. The given axis need not end exactly at the tip.
    /// Method: the strip beside the blank is read by a trained network, which says which rings there are; the taut line through them is found by dynamic
    /// programming; its corners are measured on the photo as intersections of fitted straight segments.
    /// </summary>
    public static Outcome<LineTrace> Trace(UprightPhoto photo, RodPlane plane, BlankAxis axis, LineOptions options)
    {
        StripReading reading = StripReader.Read(photo.Bgr, plane, axis);
        RingChoice rings = RingChoice.Of(reading, axis, plane, options);
        if (rings.Places.Count < 2)
        {
            return Outcome<LineTrace>.Refused(
                FindingCode.LineNotSeen, "No guides were seen on the blank: take the photo from nearer, before a plainer background, or mark the rings.");
        }

        SeenLine line = SeenLine.Find(photo, plane, axis, rings.Places, reading.Frame.InsideSign, rings.IsInside, options);
        Outcome<LineTrace> traced = LineAssembly.Complete(photo, plane, axis, rings, line, reading.Frame.InsideSign, options);
        return traced.IsRefused
            ? traced
            : Outcome<LineTrace>.Of(traced.Value with { ReelFront = ReelFinder.Find(reading, axis, plane, photo.Info) }, traced.Findings);
    }
}
