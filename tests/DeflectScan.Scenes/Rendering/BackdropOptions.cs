using System.Numerics;

namespace DeflectScan.Scenes.Rendering;

/// <summary>What stands behind and beside the rod, beyond the plain scenes' wall, cables, pictures and shelf. Colours linear RGB.</summary>
public sealed record BackdropOptions
{
    public Pattern Pattern { get; init; } = Pattern.Mottled;

    public Vector3 ColourA { get; init; } = new(0.6f, 0.6f, 0.58f);

    public Vector3 ColourB { get; init; } = new(0.5f, 0.5f, 0.48f);

    public Vector3 ColourC { get; init; } = new(0.2f, 0.2f, 0.2f);

    /// <summary>Size of the pattern, 0.4 to 2.5.</summary>
    public double Scale { get; init; } = 1;

    /// <summary>Turn of the pattern, degrees; planks may run along the blank.</summary>
    public double TurnDeg { get; init; }

    /// <summary>Strength of fine texture, 0 to 1.</summary>
    public double Grain { get; init; } = 0.4;

    /// <summary>Other rods in a rack at the wall, 0 to 7, and their lean, degrees from upright, 0 to 60.</summary>
    public int RackRods { get; init; }

    public double RackLeanDeg { get; init; }

    /// <summary>A second, straight rod close behind the first, its axis turned from the blank's chord by so much, -40 to 40 degrees; null: none.</summary>
    public double? SecondRodDeg { get; init; }

    /// <summary>Large pictures, windows, posters and screens, 0 to 6.</summary>
    public int Posters { get; init; }

    /// <summary>Boxes, tins, bottles and tools on the bench, 0 to 12.</summary>
    public int BenchThings { get; init; }

    /// <summary>Sleeves with a hand that reach in from an edge behind the rod, 0 to 2.</summary>
    public int Arms { get; init; }

    /// <summary>Lamps in the picture, with a glow, 0 to 2.</summary>
    public int Lamps { get; init; }

    /// <summary>Plants with twigs and leaves, 0 to 3.</summary>
    public int Plants { get; init; }

    /// <summary>Tools that hang on the wall, 0 to 10.</summary>
    public int WallTools { get; init; }

    /// <summary>Pipes, battens and posts at the wall, any direction, 0 to 4.</summary>
    public int Battens { get; init; }

    /// <summary>The pattern's rows run along the blank at this share of its length, 0 to 1, turned on by <see cref="TurnDeg"/>; null: <see cref="TurnDeg"/> alone.</summary>
    public double? AlongBlankAt { get; init; }

    /// <summary>Battens that lie nearly (4 degrees) along the blank, up to 90 mm beside it, 0 to 3.</summary>
    public int BattensAlong { get; init; }

    /// <summary>Picture and window frames with an edge within 60 mm of the tip or the handle's end, 0 to 2.</summary>
    public int EndFrames { get; init; }

    /// <summary>Perforated boards behind the blank, 0 to 2.</summary>
    public int Perforated { get; init; }

    /// <summary>Pitch, 12 to 40 mm, and diameter, 2 to 9 mm, of dots and holes in boards and in <see cref="Pattern.Dots"/>.</summary>
    public double DotPitchMm { get; init; } = 25;

    public double DotMm { get; init; } = 6;

    /// <summary>Every second row is shifted by half a pitch.</summary>
    public bool DotsStaggered { get; init; }

    /// <summary>Strength of a dot's shadowed rim, 0 to 1; from 0.75 on the dots are bright.</summary>
    public double DotRim { get; init; } = 0.5;
}

/// <summary>The wall's pattern.</summary>
public enum Pattern
{
    Mottled,
    Blocks,
    Bricks,
    Planks,
    Tiles,
    Pegboard,
    Gravel,
    Corrugated,
    Wallpaper,
    Curtain,
    Foliage,
    Grass,
    Sky,
    Panels,
    Wood,
    Stone,
    Stripes,
    Fabric,

    /// <summary>Dots or holes in rows.</summary>
    Dots,

    /// <summary>A wall-sized picture of shapes.</summary>
    Mural,
}
