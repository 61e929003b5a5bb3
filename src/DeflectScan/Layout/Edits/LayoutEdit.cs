namespace DeflectScan.Layout.Edits;

/// <summary>One change of a layout. Rings are named by their index in the layout as measured (0 nearest to the reel), whatever came before.</summary>
public abstract record LayoutEdit;

/// <summary>A guide is wrapped elsewhere; it keeps its own ring's height unless one is given.</summary>
/// <param name="Ring">Index in the layout as measured.</param>
/// <param name="ToMm">New station from the tip.</param>
/// <param name="DistanceMm">Ring's distance from the axis there, or null for its own.</param>
public sealed record MoveGuide(int Ring, double ToMm, double? DistanceMm = null) : LayoutEdit;

/// <summary>A further guide.</summary>
/// <param name="AtMm">Station from the tip.</param>
/// <param name="DistanceMm">Ring's distance from the axis (from a guide table), or null for that of the guide beside it.</param>
public sealed record AddGuide(double AtMm, double? DistanceMm = null) : LayoutEdit;

/// <summary>A guide less.</summary>
/// <param name="Ring">Index in the layout as measured.</param>
public sealed record RemoveGuide(int Ring) : LayoutEdit;
