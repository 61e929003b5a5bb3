using System.Numerics;

namespace DeflectScan.Scenes.Rendering;

/// <summary>One thing between camera and rod. It never covers a scale card, whatever its place asks for.</summary>
public sealed record FrontOptions
{
    public FrontKind Kind { get; init; } = FrontKind.Tape;

    /// <summary>Where its middle crosses the blank, share of the way from the handle's end to the tip, 0 to 1.</summary>
    public double At { get; init; } = 0.5;

    /// <summary>Index of the guide, from the reel, 1 upwards, that it shall cover instead; null: where <see cref="At"/> says.</summary>
    public int? OverGuide { get; init; }

    /// <summary>Width along the blank, 8 to 200 mm.</summary>
    public double WideMm { get; init; } = 40;

    /// <summary>How far it stands before the rod plane, 12 to 150 mm.</summary>
    public double BeforeMm { get; init; } = 30;

    /// <summary>Turn from square across the blank, -60 to 60 degrees; posts, cloths and cables turn from upright.</summary>
    public double TurnDeg { get; init; }

    public Vector3 Colour { get; init; } = new(0.3f, 0.3f, 0.3f);
}

/// <summary>What stands in front of the rod.</summary>
public enum FrontKind
{
    /// <summary>A sleeve, a hand and four fingers that end on the blank.</summary>
    Hand,

    /// <summary>An arm that reaches across.</summary>
    Sleeve,
    Cloth,

    /// <summary>A strip of tape or card across the blank.</summary>
    Tape,

    /// <summary>A post from the bench to beyond the picture.</summary>
    Post,

    /// <summary>A twig with leaves.</summary>
    Twig,

    /// <summary>The jointed arm of a clamp or lamp.</summary>
    ClampArm,

    /// <summary>A hanging lamp cable.</summary>
    Cable,
}
