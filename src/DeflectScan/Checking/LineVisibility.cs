using DeflectScan.Calibration;
using DeflectScan.Photos;
using DeflectScan.Tracing;
using DeflectScan.Tracing.Line;
using DeflectScan.Tracing.Reading;
using DeflectScan.Tracing.Rings;

namespace DeflectScan.Checking;

/// <summary>A quick look for the line: the measurement's own rings and the taut line through them, on a coarser sampling.</summary>
internal static class LineVisibility
{
    /// <summary>Share of the line's way, 0 to 1, on which it shows; 0 where no rings were read or nothing like a line runs through them.</summary>
    public static double SeenShare(UprightPhoto photo, RodPlane plane, BlankAxis axis, CheckOptions options)
    {
        LineOptions look = LineOptions.Default with { FinestStepMm = options.LineStepMm };
        StripReading reading = StripReader.Read(photo.Bgr, plane, axis);
        RingChoice rings = RingChoice.Of(reading, axis, plane, look);
        if (rings.Places.Count < 2)
            return 0;
        LineBand band = LineBand.Sample(photo, plane, axis, reading.Frame.InsideSign, rings.IsInside, look);
        SeenLine line = SeenLine.Find(band, rings.Places, reading.Frame.InsideSign);
        return line.Blocks.Count == 0 ? 0 : line.Blocks.Count(b => b > options.LineEvidence) / (double)line.Blocks.Count;
    }
}
