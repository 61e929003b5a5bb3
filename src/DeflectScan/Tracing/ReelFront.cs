using DeflectScan.Geometry;

namespace DeflectScan.Tracing;

/// <summary>The reel's foremost edge as read from the photo, projected on the blank's axis, which is carried straight on into the handle.</summary>
/// <param name="PointMm">On that axis, rod-plane mm.</param>
/// <param name="AlongSdMm">Standard uncertainty along the axis, mm: the reading, and what the handle hides of the axis' direction.</param>
public sealed record ReelFront(Vec2 PointMm, double AlongSdMm);
