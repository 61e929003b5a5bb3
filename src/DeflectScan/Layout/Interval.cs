namespace DeflectScan.Layout;

/// <summary>
/// A pair of successive ring points, the nearer to the reel first. All in mm, stations from the tip.
/// With d(p) = the distance from a point p of the straight line between both ring points to the nearest axis point, minus the blank's radius there:
/// </summary>
/// <param name="ChordMm">Straight distance between both ring points.</param>
/// <param name="GapMm">The largest d.</param>
/// <param name="GapAtMm">Station of the axis point where it occurs.</param>
/// <param name="BowMm">The largest perpendicular distance between the axis between both stations and the straight chord of its two points there.</param>
/// <param name="BowAtMm">Station where it occurs.</param>
/// <param name="ClearanceMm">The smallest d; zero or less: the straight line meets the blank (it is never less than minus the radius).</param>
/// <param name="ClearanceAtMm">Station where it occurs.</param>
/// <param name="InTheWayMm">How far the blank's surface stands over the straight line where it is worst: by this much the rings are too low; 0 when clear.</param>
/// <param name="TouchesBlank">The straight line cuts the blank, so that the line lies on it.</param>
public sealed record Interval(
    double ChordMm,
    double GapMm,
    double GapAtMm,
    double BowMm,
    double BowAtMm,
    double ClearanceMm,
    double ClearanceAtMm,
    double InTheWayMm,
    bool TouchesBlank);
