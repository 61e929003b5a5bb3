using DeflectScan.Calibration.Lens;
using DeflectScan.Geometry;
using DeflectScan.Photos;
using MathNet.Numerics.LinearAlgebra;

namespace DeflectScan.Calibration;

/// <summary>What is known of a photo's lens before the cards are looked at: f, cx, cy (px), k1, k2, p1, p2 with their information matrix.</summary>
/// <param name="Source">"none", "exif" or the profile's name, as reports show it.</param>
/// <param name="Mean">The seven values.</param>
/// <param name="Information">7 × 7 inverse covariance.</param>
/// <param name="K3">Held fixed.</param>
internal sealed record LensPrior(string Source, IReadOnlyList<double> Mean, Matrix<double> Information, double K3)
{
    public const int Count = 7;

    /// <summary>Rods are photographed from between these distances (common practice, no source), mm.</summary>
    private const double NearRodMm = 1500;
    private const double FarRodMm = 5000;

    /// <summary>Shapes of the pictures that cameras write, longer over shorter side (common practice, no source).</summary>
    private static readonly double[] CameraShapes = [1, 5.0 / 4, 4.0 / 3, 3.0 / 2, 16.0 / 10, 16.0 / 9, 17.0 / 9, 2, 18.5 / 9, 19.5 / 9, 20.0 / 9, 21.0 / 9];
    private const double ShapeSlack = 0.01;

    /// <summary>Those of whole sensors; a camera cuts the others from them itself.</summary>
    private static readonly double[] SensorShapes = [4.0 / 3, 3.0 / 2];

    /// <summary>
    /// A person's cut-out keeps the number that the whole frame had, so its focal length in px is longer than its own size tells, and its middle is
    /// not the lens's: mean and relative standard deviation for cut-outs of about 60 to 100 % of the sides, and by how much the middle is less sure.
    /// </summary>
    private const double CutFocal = 1.2;
    private const double CutFocalSd = 0.15;
    private const double CutPrincipalFactor = 17;

    /// <summary>Diagonal of the 36 × 24 mm frame that equivalent focal lengths refer to.</summary>
    private static readonly double FullFrameDiagonalMm = Math.Sqrt((36 * 36) + (24 * 24));

    public static LensPrior For(PhotoInfo photo, CalibrationOptions options)
    {
        if (options.Lens is { } profile)
            return FromProfile(profile, photo);
        double diagonal = Math.Sqrt(((double)photo.WidthPx * photo.WidthPx) + ((double)photo.HeightPx * photo.HeightPx));
        if (IsCut(photo))
            options = options with { PrincipalSd = CutPrincipalFactor * options.PrincipalSd };
        return StatedFocalMm(photo) is not { } mm
            ? Unknown(photo, options)
            : General("exif", photo, options, FocalFromExif(photo, options, mm, diagonal));
    }

    /// <summary>Whether the picture has a shape that no camera writes, so that a person has cut it.</summary>
    public static bool IsCut(PhotoInfo photo) => !HasShape(photo, CameraShapes);

    private static bool HasShape(PhotoInfo photo, double[] shapes) =>
        shapes.Any(s => Math.Abs(Math.Max(photo.WidthPx, photo.HeightPx) - (s * Math.Min(photo.WidthPx, photo.HeightPx))) <= ShapeSlack * Math.Max(photo.WidthPx, photo.HeightPx));

    /// <summary>The prior of a lens that is not what the photo or the profile says: any focal length, any cut-out, strong distortion.</summary>
    public static LensPrior Strange(PhotoInfo photo, CalibrationOptions options) =>
        Unknown(photo, options with { PrincipalSd = 10 * options.PrincipalSd, K1Sd = 6 * options.K1Sd, K2Sd = 6 * options.K2Sd });

    /// <summary>The broad prior of a photo that says nothing of its lens.</summary>
    public static LensPrior Unknown(PhotoInfo photo, CalibrationOptions options)
    {
        double diagonal = Math.Sqrt(((double)photo.WidthPx * photo.WidthPx) + ((double)photo.HeightPx * photo.HeightPx));
        double f = options.UnknownFocalMm / FullFrameDiagonalMm * diagonal;
        return General("none", photo, options, (f, f * options.UnknownFocalSd));
    }

    /// <summary>How far a lens lies from this prior, as a sum of squares of standard deviations.</summary>
    public double Distance(IReadOnlyList<double> lens)
    {
        Vector<double> d = Vector<double>.Build.Dense(Count, i => lens[i] - Mean[i]);
        return d * (Information * d);
    }

    /// <summary>A 35 mm equivalent that a camera for this could have; files in the wild hold nonsense too.</summary>
    private static double? StatedFocalMm(PhotoInfo photo) => photo.FocalLength35Mm is { } mm and >= 8 and <= 2000 ? mm : null;

    /// <summary>
    /// The equivalent focal length goes by the frame's diagonal (CIPA DCG-001, from memory). Pictures cut to another shape than 4:3 or 3:2
    /// often keep the number of the uncut frame, so both readings are allowed there.
    /// </summary>
    private static (double FocalPx, double SdPx) FocalFromExif(PhotoInfo photo, CalibrationOptions options, double mm, double diagonal)
    {
        double px = mm / FullFrameDiagonalMm * diagonal;
        double rounding = options.ExifFocalSdMm / mm;
        double relative = Math.Sqrt((rounding * rounding) + (options.ExifFocalModelSd * options.ExifFocalModelSd));
        if (photo.DigitalZoom is > 1.01)
            relative = Math.Max(relative, 0.1);
        if (IsCut(photo))
            return (px * CutFocal, px * CutFocal * Math.Sqrt((relative * relative) + (CutFocalSd * CutFocalSd)));
        if (HasShape(photo, SensorShapes))
            return (px, px * relative);
        double longer = Math.Max(photo.WidthPx, photo.HeightPx);
        double shape = longer / Math.Min(photo.WidthPx, photo.HeightPx);
        double uncutLonger = shape < 4.0 / 3 ? Math.Min(photo.WidthPx, photo.HeightPx) * 4.0 / 3 : longer;
        double uncut = mm / FullFrameDiagonalMm * uncutLonger * 1.25; // 4:3: the diagonal is 5/4 of the longer side
        double middle = (px + uncut) / 2;
        return (middle, Math.Sqrt(Math.Pow(middle * relative, 2) + Math.Pow((px - uncut) / 2, 2)));
    }

    private static LensPrior General(string source, PhotoInfo photo, CalibrationOptions options, (double FocalPx, double SdPx) focal)
    {
        double centre = options.PrincipalSd * Math.Max(photo.WidthPx, photo.HeightPx);
        double[] mean = [focal.FocalPx, (photo.WidthPx - 1) / 2.0, (photo.HeightPx - 1) / 2.0, 0, 0, 0, 0];
        double[] sd = [focal.SdPx, centre, centre, options.K1Sd, options.K2Sd, options.TangentialSd, options.TangentialSd];
        return new LensPrior(source, mean, Matrix<double>.Build.DenseDiagonal(Count, Count, i => 1 / (sd[i] * sd[i])), 0);
    }

    /// <summary>Scales a profile to the photo's size and turns it as the photo was turned upright (the profile is the sensor's).</summary>
    private static LensPrior FromProfile(LensProfile profile, PhotoInfo photo)
    {
        double scale = Math.Max(photo.WidthPx, photo.HeightPx) / (double)Math.Max(profile.WidthPx, profile.HeightPx);
        (int cos, int sin) = Turn(profile, photo);
        double[,] t = new double[Count, Count];
        t[0, 0] = scale;
        (t[1, 1], t[1, 2], t[2, 1], t[2, 2]) = (cos * scale, -sin * scale, sin * scale, cos * scale);
        t[3, 3] = t[4, 4] = 1;
        (t[6, 6], t[6, 5], t[5, 6], t[5, 5]) = (cos, -sin, sin, cos); // (p2, p1) turns as a vector in the picture does
        Matrix<double> turn = Matrix<double>.Build.DenseOfArray(t);
        Matrix<double> covariance = turn * Matrix<double>.Build.Dense(Count, Count, (i, j) => profile.Covariance[i][j]) * turn.Transpose();
        IReadOnlyList<double> k = profile.Distortion;
        Vector<double> mean = turn * Vector<double>.Build.Dense(
        [
            profile.FocalPx, profile.PrincipalXPx - ((profile.WidthPx - 1) / 2.0), profile.PrincipalYPx - ((profile.HeightPx - 1) / 2.0),
            k[0], k[1], k[2], k[3],
        ]);
        mean[1] += (photo.WidthPx - 1) / 2.0;
        mean[2] += (photo.HeightPx - 1) / 2.0;

        // Boards stood elsewhere than rods do: what focusing between the two may change goes into the focal length's variance.
        double focus = Math.Max(Math.Abs(LensFit.FocusChange(profile, photo, NearRodMm)), Math.Abs(LensFit.FocusChange(profile, photo, FarRodMm))) * mean[0];
        covariance[0, 0] += focus * focus / 3;
        return new LensPrior(profile.Name, [.. mean], covariance.Inverse(), k[4]);
    }

    /// <summary>Cosine and sine of the turn from sensor to upright photo, x right, y down: EXIF orientation 6 takes (x, y) to (-y, x).</summary>
    private static (int Cos, int Sin) Turn(LensProfile profile, PhotoInfo photo)
    {
        bool portrait = photo.HeightPx > photo.WidthPx != profile.HeightPx > profile.WidthPx;
        return photo.ExifOrientation switch
        {
            8 or 7 when portrait => (0, -1),
            3 or 4 when !portrait => (-1, 0),
            _ => portrait ? (0, 1) : (1, 0),
        };
    }
}
