namespace DeflectScan.Desk;

/// <summary>What a person asks the desk to change. Guides are numbered from 1 at the reel as measured; stations in mm from the tip.</summary>
public abstract record GuideChange;

/// <summary>A guide wrapped elsewhere, with its own ring or another one of the guide table.</summary>
public sealed record MoveTo(int Guide, double StationMm, double? RingSize = null) : GuideChange;

/// <summary>A further guide; its ring is that of the guides beside it or one of the guide table.</summary>
public sealed record AddAt(double StationMm, double? RingSize = null) : GuideChange;

/// <summary>A guide less.</summary>
public sealed record TakeOff(int Guide) : GuideChange;
