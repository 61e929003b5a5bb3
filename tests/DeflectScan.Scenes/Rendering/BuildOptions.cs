using System.Numerics;

namespace DeflectScan.Scenes.Rendering;

/// <summary>
/// How a rod is built up for a static test: how guides are held, their shapes, handle, reel, and what else sits on the blank. Where a
/// scene has none of these options its guides are wrapped and shaped as in the plain scenes. Lengths mm, angles degrees, colours linear.
/// </summary>
public sealed record BuildOptions
{
    public HolderKind Holder { get; init; } = HolderKind.Tubing;

    public Vector3 HolderColour { get; init; } = new(0.02f, 0.02f, 0.02f);

    /// <summary>0.35 clear tubing to 1.</summary>
    public double HolderOpacity { get; init; } = 1;

    /// <summary>Mean length of a piece, 4 to 9 (tape and thread up to 18); every piece differs by up to 15 %.</summary>
    public double HolderMm { get; init; } = 6;

    /// <summary>Thickness on the blank, 0.2 (tape) to 1.</summary>
    public double HolderThickMm { get; init; } = 0.7;

    /// <summary>Highlight of holders, 0 matt to 0.8.</summary>
    public double HolderGloss { get; init; } = 0.2;

    /// <summary>Narrow bands of a second colour at the ends of thread.</summary>
    public bool TrimBands { get; init; }

    public Vector3 TrimColour { get; init; } = new(0.5f, 0.4f, 0.1f);

    /// <summary>Pieces like the holders that wait on the blank without a guide, 0 to 6.</summary>
    public int Spares { get; init; }

    /// <summary>Wraps, rings and labels on the blank without a guide, 0 to 4.</summary>
    public int Decorations { get; init; }

    /// <summary>A small loop for the hook before the handle.</summary>
    public bool HookKeeper { get; init; }

    public FrameKind Frame { get; init; } = FrameKind.Wire;

    public Vector3 FrameColour { get; init; } = new(0.3f, 0.3f, 0.31f);

    /// <summary>Colour of the rings' ceramic.</summary>
    public Vector3 RingColour { get; init; } = new(0.06f, 0.06f, 0.065f);

    /// <summary>Ring centre of the first guide above the axis, 8 to 75 (spinning), 7 to 18 (casting).</summary>
    public double FirstHeightMm { get; init; } = 28;

    /// <summary>Ring centre of the last guide above the axis, 4 to 8.</summary>
    public double LastHeightMm { get; init; } = 5.5;

    /// <summary>How quickly heights fall towards the tip: share of the excess that stays from guide to guide, 0.35 to 0.8.</summary>
    public double HeightFall { get; init; } = 0.5;

    /// <summary>Ring's outer diameter by its centre's height, 0.55 to 1.1.</summary>
    public double RingByHeight { get; init; } = 0.9;

    /// <summary>Guides with larger rings have two feet, the others one; 0 (all two) to 60 (all one).</summary>
    public double SingleFootBelowMm { get; init; } = 9;

    /// <summary>Single feet point to the tip.</summary>
    public bool FootForward { get; init; }

    /// <summary>Tilt of the rings in the rod plane, -25 (towards the reel) to 25 (towards the tip).</summary>
    public double LeanDeg { get; init; }

    /// <summary>Guides are turned about the blank's axis, out of the rod plane, by up to this, 0 to 10, each its own way.</summary>
    public double TwistDeg { get; init; }

    /// <summary>Guides stand askew (turned about their own height) by up to this, 0 to 12, each its own way.</summary>
    public double AskewDeg { get; init; }

    /// <summary>The blank's colour beyond <see cref="SecondFrom"/>; null: one colour.</summary>
    public Vector3? SecondColour { get; init; }

    /// <summary>Share of the length at which the second colour begins, 0.2 to 0.8.</summary>
    public double SecondFrom { get; init; } = 0.5;

    /// <summary>Share of the length at which a joint stands out by 0.5 to 1 mm, 0.4 to 0.75; null: one piece.</summary>
    public double? FerruleAt { get; init; }

    public ReelKind Reel { get; init; } = ReelKind.Spinning;

    /// <summary>Size of the reel, 0.7 to 1.3.</summary>
    public double ReelScale { get; init; } = 1;

    /// <summary>How far the reel's front lies behind the end of the handle, 70 to 150 mm.</summary>
    public double ReelBackMm { get; init; } = 104;

    /// <summary>Shape of the reel and of what lies about it on the handle.</summary>
    public ReelOptions ReelShape { get; init; } = new();

    public Vector3 ReelColour { get; init; } = new(0.018f, 0.018f, 0.02f);

    /// <summary>Colours of grip and of the seat's fittings.</summary>
    public Vector3 GripColour { get; init; } = new(0.5f, 0.29f, 0.12f);

    public Vector3 FittingColour { get; init; } = new(0.42f, 0.42f, 0.44f);

    /// <summary>Radius of the grip, 9 to 16.</summary>
    public double GripMm { get; init; } = 13.5;

    /// <summary>How much the grip's radius varies along it, 0 to 0.35.</summary>
    public double GripShape { get; init; } = 0.1;

    /// <summary>Grip in two parts with bare blank between.</summary>
    public bool SplitGrip { get; init; }

    /// <summary>Strength of a bright core in a clear line, 0 to 1.</summary>
    public double LineCore { get; init; }

    /// <summary>How far the line hangs from the tip-top to its weight, 60 to 350.</summary>
    public double HangMm { get; init; } = 100;

    public Vector3 CordColour { get; init; } = new(0.55f, 0.53f, 0.46f);

    /// <summary>Length of a twist of the cord, 1.5 to 12, and how strongly it shows, 0 to 0.5.</summary>
    public double CordTwistMm { get; init; } = 5;

    public double CordTwist { get; init; } = 0.15;

    public Vector3 ClampColour { get; init; } = new(0.03f, 0.14f, 0.4f);

    /// <summary>0 round post, 1 box vice, 2 two arms, 3 a board with straps.</summary>
    public int ClampKind { get; init; }

    /// <summary>Radius of the cards' posts, 2 to 14, and their colour.</summary>
    public double PostMm { get; init; } = 4.5;

    public Vector3 PostColour { get; init; } = new(0.35f, 0.35f, 0.36f);
}

/// <summary>What holds a guide to the blank.</summary>
public enum HolderKind
{
    Thread,

    /// <summary>Short pieces of rubber or silicone tube.</summary>
    Tubing,

    /// <summary>A small elastic band wound round a few times.</summary>
    Band,

    /// <summary>Adhesive or masking tape.</summary>
    Tape,
}

/// <summary>What the guides' frames look like.</summary>
public enum FrameKind
{
    /// <summary>Two wires from each foot to the sides of the ring.</summary>
    Wire,

    /// <summary>One stem that forks below the ring.</summary>
    Fork,

    /// <summary>Stamped from sheet: broad legs, holes between.</summary>
    Plate,

    /// <summary>One leg to the ring's near rim.</summary>
    Stem,
}

/// <summary>What sits in the reel seat.</summary>
public enum ReelKind
{
    Spinning,
    Casting,

    /// <summary>No reel: the line is tied to the seat.</summary>
    None,
}
