using System.Text.Json;
using System.Text.Json.Serialization;
using MathNet.Numerics.LinearAlgebra;

namespace DeflectScan.Calibration;

/// <summary>Which camera, lens and zoom a profile belongs to. Fields that are null match any photo.</summary>
public sealed record LensIdentity(string? CameraMake, string? CameraModel, string? LensModel, double? FocalLengthMm, double? FocalLength35Mm);

/// <summary>
/// A calibrated lens: OpenCV's model with its covariance, valid for photos of the same shape (any size: px scale with the longer side).
/// </summary>
/// <param name="Name">Shown in reports.</param>
/// <param name="Identity">Whose profile it is.</param>
/// <param name="WidthPx">Width of the photos that it was made from (landscape).</param>
/// <param name="HeightPx">Height of them.</param>
/// <param name="FocalPx">Focal length at that size.</param>
/// <param name="PrincipalXPx">Principal point at that size.</param>
/// <param name="PrincipalYPx">Principal point at that size.</param>
/// <param name="Distortion">k1 k2 p1 p2 k3.</param>
/// <param name="Covariance">Rows of the 7 × 7 covariance of f, cx, cy (px), k1, k2, p1, p2.</param>
/// <param name="RmsPx">Residual of the calibration.</param>
public sealed record LensProfile(
    string Name,
    LensIdentity Identity,
    int WidthPx,
    int HeightPx,
    double FocalPx,
    double PrincipalXPx,
    double PrincipalYPx,
    IReadOnlyList<double> Distortion,
    IReadOnlyList<IReadOnlyList<double>> Covariance,
    double RmsPx)
{
    /// <summary>How many boards it was made from; null where the file does not say.</summary>
    public int? Views { get; init; }

    /// <summary>Middle distance of those boards from the camera, mm: focusing elsewhere changes the focal length a little. Null: not said.</summary>
    public double? BoardDistanceMm { get; init; }

    /// <summary>Reads a profile from a file of at most 1 MB.</summary>
    /// <exception cref="InvalidDataException">It cannot be read or is no profile; the message is one sentence for the user.</exception>
    public static LensProfile ReadFile(string path)
    {
        const long MaxBytes = 1_000_000;
        try
        {
            return new FileInfo(path).Length > MaxBytes
                ? throw new InvalidDataException("The lens profile is larger than 1 MB: give one made by calibrating the lens.")
                : Read(File.ReadAllText(path));
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or ArgumentException or NotSupportedException)
        {
            throw new InvalidDataException("The lens profile cannot be read: check its name and that you may read it.", e);
        }
    }

    /// <summary>Reads a profile.</summary>
    /// <exception cref="InvalidDataException">Not a profile, or one with impossible values.</exception>
    public static LensProfile Read(string json)
    {
        try
        {
            LensProfile profile = JsonSerializer.Deserialize(json, LensProfileJson.Default.LensProfile) ?? throw new InvalidDataException("The lens profile is empty.");
            return profile.IsSound ? profile : throw new InvalidDataException("The lens profile has values that no lens has.");
        }
        catch (JsonException e)
        {
            throw new InvalidDataException("The lens profile is not readable JSON.", e);
        }
    }

    public string Write() => JsonSerializer.Serialize(this, LensProfileJson.Default.LensProfile);

    private bool IsSound =>
        Name is not null && Identity is not null
        && WidthPx > 0 && HeightPx > 0 && double.IsFinite(FocalPx) && FocalPx > 0
        && Distortion is { Count: 5 } && Distortion.All(double.IsFinite)
        && Covariance is { Count: LensPrior.Count } && Covariance.All(r => r is { Count: LensPrior.Count } && r.All(double.IsFinite))
        && IsCovariance(Matrix<double>.Build.Dense(LensPrior.Count, LensPrior.Count, (i, j) => Covariance[i][j]));

    /// <summary>Symmetric with positive eigenvalues, once its rows are brought to one scale.</summary>
    private static bool IsCovariance(Matrix<double> m)
    {
        Vector<double> diagonal = m.Diagonal();
        if (diagonal.Any(v => v <= 0))
            return false;
        Matrix<double> correlation = m.MapIndexed((i, j, v) => v / Math.Sqrt(diagonal[i] * diagonal[j]));
        return correlation.IsSymmetric() && correlation.Evd(Symmetricity.Symmetric).EigenValues.All(e => e.Real > 1e-9);
    }
}

/// <summary>A profile's form as a document, its code made by the compiler.</summary>
[JsonSourceGenerationOptions(PropertyNamingPolicy = JsonKnownNamingPolicy.SnakeCaseLower, WriteIndented = true)]
[JsonSerializable(typeof(LensProfile))]
internal sealed partial class LensProfileJson : JsonSerializerContext;
