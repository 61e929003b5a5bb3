using DeflectScan.Calibration;
using DeflectScan.Photos;
using DeflectScan.Tracing;

namespace DeflectScan.Measuring;

/// <summary>
/// A measurement with what its pictures are drawn from. Owns the photo's pixels: dispose it after the last picture.
/// Plane and Axis are null when the photo was refused before they were known; Axis has its station 0 at the tip-top.
/// </summary>
public sealed record MeasureRun(Measurement Measurement, UprightPhoto? Photo, RodPlane? Plane, BlankAxis? Axis) : IDisposable
{
    public void Dispose() => Photo?.Dispose();
}
