using System.Numerics;
using DeflectScan.Tracing;

namespace DeflectScan.Scenes.Rendering;

/// <summary>
/// Everything that decides a rendered scene; the same options give the same bytes. Lengths mm, angles degrees, colours linear RGB
/// albedo 0 to 1. The defaults make an easy photo: a dark spinning rod pointing right on a light wall, two cards, 8 megapixels.
/// </summary>
public sealed record SceneOptions
{
    /// <summary>Seeds everything that is left to chance: card places, texture, noise.</summary>
    public int Seed { get; init; } = 1;

    /// <summary>Seeds the noise of one photo of several of one scene; null: as <see cref="Seed"/>.</summary>
    public int? NoiseSeed { get; init; }

    /// <summary>Moves a guide along the blank towards the tip: its index from the reel, 1 upwards, and by how much. Null: none.</summary>
    public (int Guide, double Mm)? Moved { get; init; }

    /// <summary>Name written into the truth.</summary>
    public string Name { get; init; } = "scene";

    /// <summary>Size as displayed.</summary>
    public int WidthPx { get; init; } = 3264;

    public int HeightPx { get; init; } = 2448;

    /// <summary>EXIF orientation the file is stored with: 1, 3, 6 or 8.</summary>
    public int Orientation { get; init; } = 1;

    /// <summary>True 35 mm focal length (by the diagonal); EXIF gets the nearest whole number.</summary>
    public double Focal35Mm { get; init; } = 26.6;

    /// <summary>False: the file has no focal length in its EXIF.</summary>
    public bool WritesFocal { get; init; } = true;

    /// <summary>Radial distortion k1; k2 is -0.4 k1, k3 0.1 k1.</summary>
    public double Distortion { get; init; } = 0.015;

    public double YawDeg { get; init; } = 4;

    public double PitchDeg { get; init; } = 3;

    public double RollDeg { get; init; } = 0.5;

    /// <summary>Share of the picture that rod, cord and cards take up.</summary>
    public double Fill { get; init; } = 0.93;

    public bool PointsLeft { get; init; }

    public BendSide Side { get; init; } = BendSide.Inside;

    /// <summary>Guides without the tip-top.</summary>
    public int Guides { get; init; } = 7;

    /// <summary>0: spacing shrinks evenly towards the tip; 1: guides displaced by up to 40 % of their spacing.</summary>
    public double Unevenness { get; init; } = 0.15;

    public double BlankLengthMm { get; init; } = 2050;

    public double ButtMm { get; init; } = 12.5;

    public double TipMm { get; init; } = 1.7;

    public double TaperFullness { get; init; } = 0.85;

    public double StiffnessPower { get; init; } = 3.1;

    public double ButtElevationDeg { get; init; } = 48;

    /// <summary>0: at rest, without a cord.</summary>
    public double TipTurnDeg { get; init; } = 85;

    /// <summary>Direction of the cord from the tip: -90 straight down, smaller towards the butt.</summary>
    public double CordDeg { get; init; } = -105;

    public double CordMm { get; init; } = 3;

    /// <summary>
    /// Tip turns of all photos of one set-up, when there are several: the same rod in the same clamp beside the same cards, which are clear of it in each;
    /// only the camera is aimed anew. Empty: one photo.
    /// </summary>
    public IReadOnlyList<double> SetUpTurnsDeg { get; init; } = [];

    /// <summary>No cord pulls the rod, which is straight as it is made.</summary>
    public bool AtRest => TipTurnDeg == 0;

    public double LineMm { get; init; } = 0.3;

    public Vector3 LineColour { get; init; } = new(0.03f, 0.22f, 0.5f);

    /// <summary>1 opaque braid, about 0.35 see-through monofilament.</summary>
    public double LineOpacity { get; init; } = 1;

    public Vector3 BlankColour { get; init; } = new(0.03f, 0.03f, 0.035f);

    /// <summary>Strength of the clear-coat's highlight, 0 matt to 1.</summary>
    public double Gloss { get; init; } = 0.5;

    public Vector3 WrapColour { get; init; } = new(0.02f, 0.02f, 0.02f);

    public bool CorkHandle { get; init; }

    /// <summary>Where the handle ends and the bare blank begins, from the butt; the reel's front lies 104 mm behind it.</summary>
    public double VisibleFromMm { get; init; } = 404;

    /// <summary>Number of cards, 0 to 5.</summary>
    public int Cards { get; init; } = 2;

    /// <summary>z of each card; missing ones stand exactly in the rod plane.</summary>
    public IReadOnlyList<double> CardZMm { get; init; } = [];

    public WallKind Wall { get; init; } = WallKind.Paint;

    public Vector3 WallColour { get; init; } = new(0.62f, 0.61f, 0.58f);

    /// <summary>Distance of the wall behind the rod.</summary>
    public double WallMm { get; init; } = 600;

    public LightKind Light { get; init; } = LightKind.Soft;

    /// <summary>Things on the wall and shelf, 0 to 4 of each kind.</summary>
    public int Cables { get; init; }

    public int Pictures { get; init; }

    public bool Shelf { get; init; }

    /// <summary>Overall gain; 1 puts white card at about 85 % of full scale in linear light.</summary>
    public double Exposure { get; init; } = 1;

    /// <summary>Gaussian sigma of the lens and demosaicing in px.</summary>
    public double BlurPx { get; init; } = 0.55;

    /// <summary>Variance per linear signal (full scale 1).</summary>
    public double ShotNoise { get; init; } = 1.2e-4;

    /// <summary>Standard deviation in the dark.</summary>
    public double ReadNoise { get; init; } = 9e-4;

    /// <summary>Amount of unsharp masking in the finished grey values.</summary>
    public double Sharpen { get; init; } = 0.3;

    public int JpegQuality { get; init; } = 90;

    public Defect Defect { get; init; } = Defect.None;

    /// <summary>Holders, guides, handle and reel beyond the plain scenes'; null: as plain.</summary>
    public BuildOptions? Build { get; init; }

    /// <summary>Wall and things beyond the plain scenes'; null: <see cref="Wall"/>, <see cref="Cables"/>, <see cref="Pictures"/> and <see cref="Shelf"/> alone.</summary>
    public BackdropOptions? Backdrop { get; init; }

    /// <summary>Things between camera and rod, 0 to 2, from the back to the front.</summary>
    public IReadOnlyList<FrontOptions> InFront { get; init; } = [];

    public CameraFaults Faults { get; init; } = new();
}

/// <summary>What the wall is made of.</summary>
public enum WallKind
{
    Paint,
    Plaster,
    Concrete,
    Pegboard,
    Brick,
    Planks,
}

/// <summary>How the scene is lit.</summary>
public enum LightKind
{
    /// <summary>A large lamp or window: broad shadows.</summary>
    Soft,

    /// <summary>A bare bulb: hard shadows.</summary>
    Hard,

    /// <summary>Two lamps.</summary>
    Two,
}

/// <summary>What makes a scene impossible to measure; Truth.ExpectedCodes says what must be said of it.</summary>
public enum Defect
{
    None,
    NoCard,

    /// <summary>Two cards, one of them 60 mm in front of or behind the rod plane.</summary>
    CardOffPlane,
    TipCropped,
    ButtCropped,
    Blurred,
    NoRod,

    /// <summary>Camera 45 degrees or more off square.</summary>
    LargeTilt,

    /// <summary>Taken from so far away that a card's squares are a few px.</summary>
    CardTooSmall,
}
