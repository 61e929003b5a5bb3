using DeflectScan.Layout.Suggesting;

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

/// <summary>What a layout would do after some edits. The axis stays: only the line finds another path.</summary>
/// <param name="Before">As measured.</param>
/// <param name="After">As edited.</param>
/// <param name="Rings">The edited layout from the reel to the tip-top; Measured is the index as measured, null for an added guide.</param>
public sealed record WhatIfResult(LayoutResult Before, LayoutResult After, IReadOnlyList<SuggestedRing> Rings);
