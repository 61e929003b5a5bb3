using DeflectScan.Calibration;
using DeflectScan.Calibration.Cards;
using DeflectScan.Findings;
using DeflectScan.Measuring;
using DeflectScan.Measuring.Prints;
using DeflectScan.Numerics;
using DeflectScan.Photos;
using DeflectScan.Tracing;
using DeflectScan.Tracing.Blank;
using DeflectScan.Tracing.Cord;
using DeflectScan.Tracing.Reading;
using MathNet.Numerics.LinearAlgebra;
using MathNet.Numerics.LinearAlgebra.Factorization;
using OpenCvSharp;

namespace DeflectScan.Checking;

/// <summary>
/// Looks at a photo while the rod is still tied: cards, tilt, sharpness, light, blank, line, resolution. The blank is looked for in a
/// reduced picture and nothing is measured for keeps, so that it takes a fraction of a measurement's time.
/// </summary>
public static class PhotoChecker
{
    public static CheckReport Check(string photoPath, PhotoLimits? limits = null, CheckOptions? options = null)
    {
        TrainedNets.Begin(toMeasure: false);
        return Opened(photoPath, limits, photo => Check(photo, options));
    }

    /// <summary>
    /// The file and the cards alone, without tracing the blank: where many photos wait and each is measured next, which says the rest.
    /// </summary>
    public static CheckReport CheckCards(string photoPath, PhotoLimits? limits = null, CheckOptions? options = null) =>
        Opened(photoPath, limits, photo => Cards(photo, options ?? CheckOptions.Default, out _)) with { Reach = CheckReach.Cards };

    private static CheckReport Opened(string photoPath, PhotoLimits? limits, Func<UprightPhoto, CheckReport> check)
    {
        Task ahead = Task.Run(LoadAhead);
        Outcome<UprightPhoto> opened = PhotoOpener.Open(photoPath, limits ?? PhotoLimits.Default);
        if (opened.IsRefused)
            return new CheckReport(null, [.. opened.Findings.Select(CheckItems.File)]);
        using UprightPhoto photo = opened.Value;
        ahead.Wait();
        return check(photo);
    }

    /// <summary>Calls once, while the file is still being read, what takes long the first time: code and libraries are loaded then.</summary>
    private static void LoadAhead()
    {
        using Mat nothing = new(64, 64, MatType.CV_8UC1, Scalar.White);
        MarkerSearch.Find(nothing, CardOptions.Default);
        PositiveDefinite.TryFactor(Matrix<double>.Build.DenseIdentity(7), out Cholesky<double>? factor);
        _ = factor?.Solve(Matrix<double>.Build.DenseIdentity(7));
        _ = Matrix<double>.Build.DenseIdentity(7).Svd();
    }

    public static CheckReport Check(UprightPhoto photo, CheckOptions? options = null)
    {
        options ??= CheckOptions.Default;
        CheckReport ofCards = Cards(photo, options, out PlaneSolution? plane);
        if (plane is null)
            return ofCards;
        List<CheckItem> items = [.. ofCards.Items];
        double reduce = Math.Max(1, Math.Sqrt(photo.Info.WidthPx * (double)photo.Info.HeightPx / options.SearchPixels));
        Outcome<BlankAxis> traced = Axis(photo, plane, reduce, options.AtRest);
        items.AddRange(CheckItems.Rod([.. traced.Findings, .. AtRest(photo, plane, traced.Value, options)], fromReduced: true));
        if (traced.Value is { } axis)
        {
            items.AddRange(CheckItems.Blank(BlankLook.Of(photo, plane.Plane, axis, options.BlankContrast), photo.Info, options));
            if (!options.AtRest)
                items.Add(CheckItems.Line(LineVisibility.SeenShare(photo, plane.Plane, axis, options), options));
        }

        return new CheckReport(photo.Info, items);
    }

    private static CheckReport Cards(UprightPhoto photo, CheckOptions options, out PlaneSolution? plane)
    {
        Outcome<PlaneSolution> solved = PlaneSolver.Solve(CardFinder.Find(photo), photo.Info);
        plane = solved.Value;
        return Cards(photo, solved, options);
    }

    /// <summary>What solved cards say.</summary>
    internal static CheckReport Cards(UprightPhoto photo, Outcome<PlaneSolution> solved, CheckOptions options)
    {
        if (solved.Value is not { Plane: var at } plane)
            return new CheckReport(photo.Info, [.. solved.Findings.Select(CheckItems.Cards)]);
        List<CheckItem> items = [.. CheckItems.Plane(plane, solved.Findings, options)];
        CardLook[] looks = [.. plane.Cards.Select(c => CardLook.Of(photo, at, c)).OfType<CardLook>()];
        if (looks.Length > 0)
            items.AddRange(CheckItems.Print(looks, options));
        return new CheckReport(photo.Info, items);
    }

    // A rod at rest has no line to show its tip, and nothing may pull it.
    private static IEnumerable<Finding> AtRest(UprightPhoto photo, PlaneSolution plane, BlankAxis? axis, CheckOptions options) =>
        !options.AtRest || axis is null ? []
        : [
            .. TipCheck.AtRest(photo, plane.Plane, axis, isMarked: false) is { } lost ? (Finding[])[lost] : [],
            .. RestCheck.Of(MeasurementBuilder.TurnDeg(axis.Curve), CordTracer.Trace(photo, plane.Plane, axis, null)),
        ];

    /// <summary>The blank in a reduced picture; the plane's millimetres are the same.</summary>
    private static Outcome<BlankAxis> Axis(UprightPhoto photo, PlaneSolution plane, double reduce, bool atRest)
    {
        Mat small = new();
        Cv2.Resize(photo.Bgr, small, new Size((int)(photo.Info.WidthPx / reduce), (int)(photo.Info.HeightPx / reduce)), 0, 0, InterpolationFlags.Area);
        using UprightPhoto reduced = new(photo.Info with { WidthPx = small.Width, HeightPx = small.Height }, small);
        return AxisTracer.Trace(reduced, plane.Plane.SeenReduced(photo.Info.WidthPx / (double)small.Width), new AxisOptions { AtRest = atRest });
    }
}
