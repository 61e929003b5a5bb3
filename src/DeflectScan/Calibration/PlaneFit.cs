using DeflectScan.Calibration.Cards;
using DeflectScan.Geometry;
using DeflectScan.Numerics;
using MathNet.Numerics.LinearAlgebra;

namespace DeflectScan.Calibration;

/// <summary>A solved bundle adjustment: the model with the unknowns at the minimum.</summary>
internal sealed record PlaneFit(PlaneProblem Problem, RobustFit Fit)
{
    /// <summary>Noise assumed while the pose is still being found, px.</summary>
    private const double RoughSdPx = 0.2;

    /// <summary>The other leaning of a small card is ruled out when it costs this much more (noise variances).</summary>
    private const double MirrorRuledOut = 12;

    /// <summary>Fits the plane from a start pose, or from both poses of the first card, whichever ends lower; null where the corners are no card's.</summary>
    /// <param name="cards">Sightings, the frame's card first.</param>
    /// <param name="lens">What is known of the lens.</param>
    /// <param name="options">Assumptions.</param>
    /// <param name="mirrored">The plane leaning the other way, where the photo cannot rule it out; else null.</param>
    public static PlaneFit? Solve(IReadOnlyList<CardSighting> cards, LensPrior lens, CalibrationOptions options, out PlaneFit? mirrored)
    {
        CameraModel camera = new(lens.Mean[0], new Vec2(lens.Mean[1], lens.Mean[2]), lens.Mean[3], lens.Mean[4], lens.Mean[5], lens.Mean[6], lens.K3);
        PlaneFit[] rough =
        [
            .. PlaneStart.Poses(cards[0], options.CardScale, camera)
                .Select(pose => Rough(cards, lens, options, camera, pose.Rotation, pose.Translation))
                .OrderBy(f => f.Fit.Cost),
        ];
        mirrored = null;
        if (rough.Length == 0 || !rough[0].IsSound)
            return null;
        PlaneFit best = rough[0].Finished(lens, options);
        double finer = Math.Pow(RoughSdPx / Math.Max(best.Fit.SdPx, options.LeastCornerSdPx), 2);
        if (rough.Length > 1 && (rough[1].Fit.Cost - rough[0].Fit.Cost) * finer < MirrorRuledOut && !rough[0].SamePoseAs(rough[1]))
            mirrored = rough[1].Finished(lens, options);
        if (mirrored is not null && (mirrored.SamePoseAs(best) || mirrored.Fit.Cost - best.Fit.Cost > MirrorRuledOut))
            mirrored = null;
        return best.IsSound ? best : null;
    }

    /// <summary>Whether the corners lie as a card's do and fix all that is unknown.</summary>
    public bool IsSound =>
        Fit.SdPx < Math.Max(1, 0.05 * Problem.Cards[0].SquarePx) && PositiveDefinite.TryFactor(Fit.Information, out _) && Fit.X.All(double.IsFinite);

    /// <summary>Fits again, from here, with some cards allowed off the plane.</summary>
    /// <param name="stands">What is allowed, by the card's place in the list; null holds it in the plane.</param>
    /// <param name="lens">What is known of the lens.</param>
    /// <param name="sdPx">Noise of a corner's coordinate.</param>
    public PlaneFit Loosen(Func<int, CardTolerance?> stands, LensPrior lens, double sdPx)
    {
        PlaneProblem looser = Problem.With(c => stands(c) is not null);
        double[] start = new double[looser.Unknowns];
        Fit.X.AsSpan(0, Math.Min(Fit.X.Length, start.Length)).CopyTo(start);
        for (int c = 0; c < Problem.Cards.Count; c++)
        {
            if (looser.StandAt(c) is var at and >= 0)
                (start[at], start[at + 1], start[at + 2]) = (0, 0, 0);
        }

        return new PlaneFit(looser, LeastSquares.Minimise(Robust(looser, lens, stands), start, sdPx));
    }

    /// <summary>Fits again, from here, with cards held to be of another shape or place; only where all cards are held in the plane.</summary>
    /// <param name="relief">See <see cref="PlaneProblem"/>.</param>
    /// <param name="lens">What is known of the lens.</param>
    /// <param name="sdPx">Noise of a corner's coordinate.</param>
    public PlaneFit Relieved(Func<int, Vec2, double> relief, LensPrior lens, double sdPx)
    {
        PlaneProblem relieved = Problem.WithRelief(relief);
        return new PlaneFit(relieved, LeastSquares.Minimise(Robust(relieved, lens, _ => null), Fit.X, sdPx));
    }

    /// <summary>How a card stands in this fit: height over the plane towards the camera, and how far it is turned out of the plane.</summary>
    public (double HeightMm, double LeanDeg) Stand(int card)
    {
        int at = Problem.StandAt(card);
        return at < 0 ? (0, 0) : (Fit.X[at], Math.Sqrt((Fit.X[at + 1] * Fit.X[at + 1]) + (Fit.X[at + 2] * Fit.X[at + 2])) * 180 / Math.PI);
    }

    /// <summary>A card's standing in squared standard deviations of what is expected.</summary>
    public double Strain(int card, CardTolerance expected)
    {
        (double height, double lean) = Stand(card);
        return Math.Pow(height / expected.HeightSdMm, 2) + Math.Pow(lean / expected.LeanSdDeg, 2);
    }

    private static PlaneFit Rough(
        IReadOnlyList<CardSighting> cards, LensPrior lens, CalibrationOptions options, CameraModel camera, double[] rotation, double[] translation)
    {
        PlaneProblem problem = new(cards, options.CardScale, rotation, lens.K3, _ => CardTolerance.Stated(options) is not null);
        double[] x = new double[problem.Unknowns];
        for (int i = 0; i < LensPrior.Count; i++)
            x[i] = lens.Mean[i];
        for (int i = 0; i < 3; i++)
            x[PlaneProblem.TranslationAt + i] = translation[i];
        RodPlane plane = new(camera, problem.Homography(x));
        for (int c = 1; c < cards.Count; c++)
        {
            (Vec2 middle, double angle) = PlaneStart.Place(cards[c], options.CardScale, plane);
            int at = PlaneProblem.CardAt(c);
            (x[at], x[at + 1], x[at + 2]) = (middle.X, middle.Y, angle);
        }

        return new PlaneFit(problem, LeastSquares.Minimise(Robust(problem, lens, _ => CardTolerance.Stated(options)), x, RoughSdPx));
    }

    private PlaneFit Finished(LensPrior lens, CalibrationOptions options) =>
        this with { Fit = LeastSquares.Solve(Robust(Problem, lens, _ => CardTolerance.Stated(options)), Fit, options.LeastCornerSdPx) };

    private static RobustProblem Robust(PlaneProblem problem, LensPrior lens, Func<int, CardTolerance?> stands)
    {
        int n = problem.Unknowns;
        Vector<double> mean = Vector<double>.Build.Dense(n);
        Matrix<double> information = Matrix<double>.Build.Dense(n, n);
        information.SetSubMatrix(0, 0, lens.Information);
        for (int i = 0; i < LensPrior.Count; i++)
            mean[i] = lens.Mean[i];
        for (int c = 0; c < problem.Cards.Count; c++)
        {
            if (problem.StandAt(c) is not (var at and >= 0) || stands(c) is not { } standing)
                continue;
            information[at, at] = standing.HeightInformation;
            information[at + 1, at + 1] = information[at + 2, at + 2] = standing.LeanInformation;
        }

        return new RobustProblem(n, problem.Corners, problem.Residuals, mean, information, Steps(problem));
    }

    private static double[] Steps(PlaneProblem problem)
    {
        double[] step = new double[problem.Unknowns];
        Array.Fill(step, 1e-5); // angles and distortion
        Array.Fill(step, 1e-2, 0, 3); // px
        Array.Fill(step, 1e-2, PlaneProblem.TranslationAt, 3); // mm
        for (int c = 0; c < problem.Cards.Count; c++)
        {
            if (c > 0)
                step[PlaneProblem.CardAt(c)] = step[PlaneProblem.CardAt(c) + 1] = 1e-2;
            if (problem.StandAt(c) is var at and >= 0)
                step[at] = 1e-2;
        }

        return step;
    }

    private bool SamePoseAs(PlaneFit other)
    {
        double[] a = Problem.Homography(Fit.X);
        double[] b = other.Problem.Homography(other.Fit.X);
        return Math.Abs(a[6] - b[6]) < 1e-4 && Math.Abs(a[7] - b[7]) < 1e-4;
    }
}
