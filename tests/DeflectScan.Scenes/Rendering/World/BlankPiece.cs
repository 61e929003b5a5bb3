namespace DeflectScan.Scenes.Rendering.World;

/// <summary>Something short on the blank.</summary>
/// <param name="Role">holder, spare, decoration, ferrule or hook-keeper.</param>
/// <param name="Kind">tubing, band, tape, thread, ring, label or wire.</param>
/// <param name="FromMm">Its end towards the butt, s from the butt.</param>
/// <param name="ToMm">Its end towards the tip.</param>
/// <param name="ThickMm">On the blank.</param>
/// <param name="Guide">Index from the reel, 1 upwards, of the guide that it holds; null: none.</param>
public sealed record BlankPiece(string Role, string Kind, double FromMm, double ToMm, double ThickMm, int? Guide);
