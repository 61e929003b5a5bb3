using DeflectScan.Calibration;
using DeflectScan.Findings;
using DeflectScan.Geometry;
using DeflectScan.Photos;

namespace DeflectScan.Tracing.Line;

/// <summary>Finds the line, the guides' ring points and the tip-top's on a photo whose blank is traced.</summary>
public static class LineTracer
{
    /// <summary>
    /// Traces the line from the tip-top to before the first guide. The given axis need not end exactly at the tip.
    /// Method: the band beside the blank is straightened; a path of straight pieces is found in it by dynamic programming, first in any
    /// colour, then in the line's own; its corners are chosen by model comparison and measured on the photo as intersections of fitted
    /// straight segments.
    /// </summary>
    public static Outcome<LineTrace> Trace(UprightPhoto photo, RodPlane plane, BlankAxis axis, LineOptions options)
    {
        BandTrace? band = BandTrace.Best(photo, plane, axis, options);
        if (band is null)
        {
            return RingMarks.Alone(axis, plane, options) ?? Outcome<LineTrace>.Refused(
                FindingCode.LineNotSeen,
                "No line was seen along the blank: use a line that stands out from the wall, or take the photo from nearer.");
        }

        return LineAssembly.Complete(photo, plane, axis, band, options);
    }
}
