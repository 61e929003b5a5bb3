using DeflectScan.Geometry;

namespace DeflectScan.Calibration.Cards;

/// <summary>An inner corner of a card as seen.</summary>
/// <param name="Index">0 to 23, row by row from the card's top-left as printed.</param>
/// <param name="Px">Where it is in the upright photo, sub-pixel.</param>
public readonly record struct CardCorner(int Index, Vec2 Px);

/// <summary>One scale card found in a photo.</summary>
/// <param name="Letter">A to E.</param>
/// <param name="Markers">How many of its 17 markers were read.</param>
/// <param name="SquarePx">Side of a square in the photo, px (mean over the card).</param>
/// <param name="Corners">Its inner corners that could be measured, by index; hidden or unsure ones are left out.</param>
public sealed record CardSighting(char Letter, int Markers, double SquarePx, IReadOnlyList<CardCorner> Corners);
