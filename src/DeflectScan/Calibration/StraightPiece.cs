using DeflectScan.Geometry;

namespace DeflectScan.Calibration;

/// <summary>Places seen on something that is straight in the rod plane: a taut line between two rings.</summary>
/// <param name="Points">Photo px, in order along the piece, with the standard uncertainty across it, px.</param>
public sealed record StraightPiece(IReadOnlyList<(Vec2 Px, double SdPx)> Points);
