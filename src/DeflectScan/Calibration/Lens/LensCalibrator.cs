using DeflectScan.Findings;
using DeflectScan.Geometry;
using DeflectScan.Numerics;
using DeflectScan.Photos;

namespace DeflectScan.Calibration.Lens;

/// <summary>Makes a lens profile from boards that one camera saw at one zoom.</summary>
public static class LensCalibrator
{
    private const int FewestViews = 3;

    /// <summary>A sixth-order term is kept when it lowers the sum of squares by this many noise variances: chi-square, 1 degree of freedom, 0.0001.</summary>
    private const double KeepsK3 = 15.1;

    /// <summary>Relative standard uncertainty of the focal length above which there is no profile.</summary>
    private const double HopelessFocal = 0.05;

    private static readonly bool[] WithoutK3 = [true, true, true, true, true, true, true, false];

    /// <summary>Calibrates from photo files: all of one camera, lens, zoom and size; others are left out and named.</summary>
    /// <param name="paths">Photo files.</param>
    /// <param name="board">The chessboard; null for scale cards.</param>
    /// <param name="name">What reports call the lens; null: made from the camera's names.</param>
    /// <param name="limits">What a file may cost.</param>
    /// <param name="progress">Told which photo is looked at.</param>
    /// <param name="cancel">Asked before each photo.</param>
    public static Outcome<LensCalibration> FromFiles(
        IReadOnlyList<string> paths, BoardPattern? board, string? name = null, PhotoLimits? limits = null, IProgress<string>? progress = null, CancellationToken cancel = default)
    {
        List<(PhotoInfo Photo, IReadOnlyList<BoardView> Views)> seen = [];
        List<string> warnings = [];
        foreach (string path in paths)
        {
            cancel.ThrowIfCancellationRequested();
            progress?.Report($"Looking for boards in {Path.GetFileName(path)}");
            Outcome<UprightPhoto> opened = PhotoOpener.Open(path, limits ?? PhotoLimits.Default);
            if (opened.IsRefused)
            {
                warnings.Add($"{Path.GetFileName(path)} was left out. {opened.Findings[0].Message}");
                continue;
            }

            using UprightPhoto photo = opened.Value;
            IReadOnlyList<BoardView> views = BoardSearch.Find(photo, board);
            if (views.Count == 0)
                warnings.Add($"{photo.Info.FileName} was left out: no whole, sharp board was found in it.");
            else
                seen.Add((photo.Info, views));
        }

        return Calibrate(seen, name, warnings);
    }

    internal static Outcome<LensCalibration> Calibrate(
        IReadOnlyList<(PhotoInfo Photo, IReadOnlyList<BoardView> Views)> seen, string? name, List<string> warnings)
    {
        IGrouping<CameraKey, (PhotoInfo Photo, IReadOnlyList<BoardView> Views)>? group = seen.GroupBy(s => CameraKey.Of(s.Photo)).MaxBy(g => g.Count());
        if (group is null)
            return Refused("No board was found in any of the photos: show a whole scale card or chessboard, flat and sharp; for a chessboard say how many inner corners it has.");
        foreach ((PhotoInfo photo, _) in seen.Where(s => CameraKey.Of(s.Photo) != group.Key))
            warnings.Add($"{photo.FileName} was left out: it is of another camera, lens, zoom or size than the others.");
        List<BoardView> views = [.. group.SelectMany(s => s.Views)];
        if (views.Count < FewestViews)
            return Refused($"Only {views.Count} view{(views.Count == 1 ? "" : "s")} of a board: take at least ten, the board turned differently in each and reaching into every corner of the picture.");
        if (Adjust(views, group.Key.WidthPx, group.Key.HeightPx) is not { } lens || Math.Sqrt(lens.Covariance[0, 0]) > HopelessFocal * lens.X[0])
            return Refused("The views do not fix the lens: turn the board by 20 to 40 degrees in several directions and fill the picture with it.");
        return Outcome<LensCalibration>.Of(Describe(lens, views, group.First().Photo, group.Key, name, warnings));
    }

    /// <summary>The lens that explains the views; null where they fix none.</summary>
    internal static AdjustedLens? Adjust(IReadOnlyList<BoardView> views, int widthPx, int heightPx)
    {
        if (LensStart.Of(views, widthPx, heightPx) is not { } start || new LensAdjustment(views, WithoutK3).Solve(start.X, start.Poses) is not { } simple)
            return null;
        AdjustedLens? full = new LensAdjustment(views, [.. WithoutK3.Select(_ => true)]).Solve(simple.X, simple.Poses);
        double Squares(AdjustedLens lens) => lens.ResidualsPx.SelectMany(r => r).Sum(r => Math.Min(r.LengthSquared, 12 * lens.SdPx * lens.SdPx));
        return full is not null && (Squares(simple) - Squares(full)) / (full.SdPx * full.SdPx) > KeepsK3 ? full : simple;
    }

    private static LensCalibration Describe(
        AdjustedLens lens, List<BoardView> views, PhotoInfo photo, CameraKey camera, string? name, List<string> warnings)
    {
        double[] distances = [.. lens.Poses.Select(p => Math.Sqrt(p.Translation.Sum(t => t * t)))];
        LensProfile profile = new(
            name ?? camera.Name,
            new LensIdentity(photo.CameraMake, photo.CameraModel, photo.LensModel, photo.FocalLengthMm, photo.FocalLength35Mm),
            camera.WidthPx, camera.HeightPx, lens.X[0], lens.X[1], lens.X[2], [.. lens.X[3..]],
            [.. Enumerable.Range(0, LensPrior.Count).Select(i => (IReadOnlyList<double>)[.. Enumerable.Range(0, LensPrior.Count).Select(j => (lens.Covariance[i, j] + lens.Covariance[j, i]) / 2)])],
            lens.RmsPx)
        {
            Views = views.Count,
            BoardDistanceMm = OrderStatistics.Middle(distances),
        };
        ViewReport[] reports =
        [
            .. views.Select((v, i) => new ViewReport(
                v.Photo, v.SensorPx.Count, Math.Sqrt(lens.ResidualsPx[i].Average(r => r.LengthSquared)),
                Math.Acos(Math.Min(1, Math.Abs(lens.Poses[i].Normal.Z))) * 180 / Math.PI, distances[i])),
        ];
        LensViews spread = new(views, lens.Poses, camera.WidthPx, camera.HeightPx);
        LensCalibration result = new(
            profile, [.. Enumerable.Range(0, LensModel.Count).Select(i => Math.Sqrt(lens.Covariance[i, i]))], reports,
            [.. views.SelectMany(v => v.SensorPx)], [.. lens.ResidualsPx.SelectMany(r => r)], spread.Coverage, spread.OutermostShare, spread.TurnDeg, []);
        return result with { Warnings = [.. warnings, .. LensAdvice.On(result, spread)] };
    }

    private static Outcome<LensCalibration> Refused(string message) => Outcome<LensCalibration>.Refused(FindingCode.LensUnknown, message);

    /// <summary>What photos must share to be of one lens.</summary>
    private sealed record CameraKey(int WidthPx, int HeightPx, string? Make, string? Model, string? Lens, double? FocalMm, double? Focal35Mm)
    {
        public string Name => $"{Model ?? "camera"}{(Focal35Mm is { } mm ? $" {mm:0} mm" : "")}";

        public static CameraKey Of(PhotoInfo p) => new(
            Math.Max(p.WidthPx, p.HeightPx), Math.Min(p.WidthPx, p.HeightPx), p.CameraMake, p.CameraModel, p.LensModel, p.FocalLengthMm, p.FocalLength35Mm);
    }
}
