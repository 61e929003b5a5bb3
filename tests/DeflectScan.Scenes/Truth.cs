using System.Text.Json;
using System.Text.Json.Serialization;
using DeflectScan.Calibration;
using DeflectScan.Geometry;

namespace DeflectScan.Scenes;

/// <summary>
/// The exact truth beside a rendered photograph (truth.json). World frame: mm, x right, y up, z towards the camera, the rod in z = 0,
/// s from the butt. Px: of the photo after EXIF orientation, origin at the centre of the top-left pixel.
/// </summary>
public sealed record Truth(
    string Preset,
    string Expected,
    TruthImage Image,
    TruthCamera Camera,
    IReadOnlyList<TruthCard> Cards,
    TruthBlank Blank,
    IReadOnlyList<TruthGuide> Guides,
    TruthLine Line,
    string Side,
    IReadOnlyList<TruthInterval> Intervals,
    TruthLargest Largest)
{
    private static readonly JsonSerializerOptions Options = new()
    {
        PropertyNamingPolicy = JsonNamingPolicy.SnakeCaseLower,
        NumberHandling = JsonNumberHandling.AllowReadingFromString,
        PropertyNameCaseInsensitive = true,
    };

    /// <summary>For a photo that cannot be measured: the codes any one of which is right; null where the file does not say.</summary>
    public IReadOnlyList<string>? ExpectedCodes { get; init; }

    /// <summary>Holders, spare pieces, decorations, ferrule and hook-keeper; null where the file does not say.</summary>
    public IReadOnlyList<TruthPiece>? Pieces { get; init; }

    /// <summary>The cord from tip to anchor; null where the file does not say or the rod is at rest.</summary>
    public TruthCord? Cord { get; init; }

    /// <summary>spinning, casting or none; null where the file does not say. reel_front_s_mm is where the front is or would be.</summary>
    public string? Reel { get; init; }

    /// <summary>[from_s_mm, to_s_mm] of each stretch of the blank behind something in front of the rod; null where the file does not say or nothing stands there.</summary>
    public IReadOnlyList<double[]>? Hidden { get; init; }

    [JsonIgnore]
    public bool ExpectsOk => Expected == "ok";

    public static Truth Read(string path) =>
        JsonSerializer.Deserialize<Truth>(File.ReadAllText(path), Options) ?? throw new InvalidDataException($"{path} holds no truth.");

    /// <summary>Writes the same form that <see cref="Read"/> reads.</summary>
    public void Write(string path) => File.WriteAllText(path, JsonSerializer.Serialize(this, Options));

    /// <summary>The exact rod plane: world x, y in mm, no covariance.</summary>
    public RodPlane RodPlane()
    {
        double[][] r = Camera.R;
        double[] h =
        [
            r[0][0], r[0][1], Camera.T[0],
            r[1][0], r[1][1], Camera.T[1],
            r[2][0], r[2][1], Camera.T[2],
        ];
        double[] k = Camera.Distortion;
        CameraModel model = new(Camera.K[0][0], new Vec2(Camera.K[0][2], Camera.K[1][2]), k[0], k[1], k[2], k[3], k[4]);
        return new RodPlane(model, h);
    }
}

public sealed record TruthImage(
    int[] Displayed,
    int[] Stored,
    int Orientation,
    [property: JsonPropertyName("focal_35mm_exif")] double? Focal35MmExif);

public sealed record TruthCamera(
    double[][] K,
    [property: JsonPropertyName("distortion_k1k2p1p2k3")] double[] Distortion,
    [property: JsonPropertyName("R")] double[][] R,
    double[] T,
    double[] Position,
    double YawDeg,
    double PitchDeg,
    double RollDeg,
    double MmPerPxCentre);

public sealed record TruthCard(
    string Letter,
    double ZMm,
    double[][] OuterCornersMm,
    double[][] OuterCornersPx,
    double[][] InnerCornersMm,
    double[][] InnerCornersPx);

public sealed record TruthBlank(
    double LengthMm,
    double ReelFrontSMm,
    double VisibleFromSMm,
    double[] ClampedAtSMm,
    double TipTurnDeg,
    double ForceRelative,
    double ForceDirectionDeg,
    double[] AnchorMm,
    double[] AnchorPx,
    IReadOnlyList<TruthSample> Samples);

public sealed record TruthSample(double S, double X, double Y, double AngleDeg, double DiameterMm, double U, double V);

public sealed record TruthGuide(
    int Index,
    string Kind,
    double SMm,
    double FromReelMm,
    double FromTipMm,
    double RingOuterMm,
    double RingInnerMm,
    double[] RingCentreMm,
    double[] RingCentrePx,
    double[] ContactMm,
    double[] ContactPx,
    string ContactRim,
    double HeightMm,
    double LineAngleDeg)
{
    /// <summary>How the guide stands and is held; null where the file does not say.</summary>
    public TruthStance? Stance { get; init; }

    /// <summary>The place where the line touches the ring is behind something; false where the file does not say.</summary>
    public bool Hidden { get; init; }
}

/// <summary>A guide of a built-up rod.</summary>
/// <param name="Holder">thread, tubing, band, tape or tip.</param>
/// <param name="StationSMm">Station of the ring's foot point; the guide's s_mm is the contact's.</param>
/// <param name="CentreHeightMm">Ring centre's distance from the axis.</param>
/// <param name="LeanDeg">Tilt of the ring in the rod plane, towards the tip positive.</param>
/// <param name="TwistDeg">Turn about the blank's axis.</param>
/// <param name="AskewDeg">Turn about the guide's height.</param>
/// <param name="FeetSMm">From and to of each foot on the blank, s from the butt.</param>
public sealed record TruthStance(
    string Holder,
    double StationSMm,
    double CentreHeightMm,
    double LeanDeg,
    double TwistDeg,
    double AskewDeg,
    double[][] FeetSMm);

/// <summary>Something short on the blank: role holder, spare, decoration, ferrule or hook-keeper; kind tubing, band, tape, thread, ring, label or wire.</summary>
public sealed record TruthPiece(
    string Role,
    string Kind,
    double FromSMm,
    double ToSMm,
    double[] FromPx,
    double[] ToPx,
    int? Guide);

public sealed record TruthCord(double DiameterMm, double[] FromMm, double[] ToMm, double[] FromPx, double[] ToPx);

public sealed record TruthLine(double DiameterMm, double[]? HangsToMm, double[]? HangsToPx, IReadOnlyList<TruthVertex> Vertices);

public sealed record TruthVertex(string Kind, double X, double Y, double U, double V);

public sealed record TruthInterval(
    JsonElement From,
    JsonElement To,
    double ChordMm,
    double GapMm,
    double GapAtSMm,
    double GapAxisMm,
    double ClearanceMm,
    double BowMm,
    bool WrapsBlank,
    double ClearanceAtSMm,
    double BowAtSMm);

public sealed record TruthLargest(TruthPair Gap, TruthPair Bow);

public sealed record TruthPair(int From, int To);
