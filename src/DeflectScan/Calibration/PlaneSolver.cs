using DeflectScan.Calibration.Cards;
using DeflectScan.Findings;
using DeflectScan.Geometry;
using DeflectScan.Photos;

namespace DeflectScan.Calibration;

/// <summary>
/// Solves the rod plane from the cards seen in one photo: bundle adjustment of the lens (held by EXIF, a profile or general priors), the
/// plane's pose and every card's place in it, with the covariance from the normal equations (JCGM 100:2008, 5.2, carried on by
/// <see cref="RodPlane.Variants"/>).
/// </summary>
public static class PlaneSolver
{
    /// <summary>Border of the sheet and its board round the pattern, mm: along its 5 and its 7 squares, a little more than A4 or US Letter leave.</summary>
    private static readonly Vec2 BoardBorderMm = new(24, 30);

    /// <summary>A lens farther from its prior than this (sum of squares of 7 standard deviations, p = 0.001) is not the lens that the prior speaks of.</summary>
    private const double StrangeLens = 24.3;

    public static Outcome<PlaneSolution> Solve(IReadOnlyList<CardSighting> cards, PhotoInfo photo, CalibrationOptions? options = null)
    {
        options ??= CalibrationOptions.Default;
        if (cards.Count == 0)
            return Outcome<PlaneSolution>.Refused(CalibrationFindings.NoCard());
        CardSighting[] usable = [.. cards.Where(c => c.SquarePx >= options.HopelessSquarePx).OrderByDescending(c => c.SquarePx * c.Corners.Count)];
        if (usable.Length == 0)
            return Outcome<PlaneSolution>.Refused(CalibrationFindings.CardHopeless(cards[0], options));

        List<Finding> findings = [];
        LensPrior lens = LensPrior.For(photo, options);
        if (options.NearCamera is { } near)
            lens = PlumbLines.Joined(lens, near, options.StraightPieces);
        if (PlaneFit.Solve(usable, lens, options, out PlaneFit? mirrored) is not { } fit)
            return Outcome<PlaneSolution>.Refused(usable.Length > 1 ? CalibrationFindings.NoCommonPlane() : CalibrationFindings.CardUnreadable(usable[0]));
        Coplanarity together = Coplanarity.Test(fit, lens, options);
        List<PlaneFit> readings = [];
        if (together.Verdict != Coplanarity.Kind.Together)
        {
            findings.Add(CalibrationFindings.OffPlane(together));
            if (together.Card is { } outlier)
            {
                usable = [.. usable.Where(c => c != outlier)];
                fit = PlaneFit.Solve(usable, lens, options, out mirrored) ?? fit;
            }
            else
            {
                fit = together.ByHand ?? fit;
                readings.AddRange(together.Readings);
            }
        }
        else if (lens.Distance(fit.Fit.X) > StrangeLens)
        {
            findings.Add(CalibrationFindings.LensContradicted(lens.Source));
            lens = LensPrior.Strange(photo, options);
            fit = PlaneFit.Solve(usable, lens, options, out mirrored) ?? fit;
        }
        else if (lens.Source == "none")
        {
            findings.Add(CalibrationFindings.LensUnknown());
        }
        else if (options.Lens is null && LensPrior.IsCut(photo))
        {
            findings.Add(CalibrationFindings.PhotoCut());
        }

        if (mirrored is not null)
            readings.Add(mirrored);
        PlaneSolution solution = Describe(fit, readings, lens, photo, options);
        findings.AddRange(CalibrationFindings.On(solution, mirrored is not null, together.Verdict == Coplanarity.Kind.Apart, options));
        return Outcome<PlaneSolution>.Of(solution, findings);
    }

    private static PlaneSolution Describe(PlaneFit fit, IReadOnlyList<PlaneFit> otherReadings, LensPrior lens, PhotoInfo photo, CalibrationOptions options)
    {
        (PlaneProblem problem, double[] x) = (fit.Problem, fit.Fit.X);
        Vec2 middle = new((photo.WidthPx - 1) / 2.0, (photo.HeightPx - 1) / 2.0);
        (RodPlane plane, Vec2 origin, double angle) = PlaneFrame.Of(problem.Camera(x), problem.Homography(x), middle);
        List<(RodPlane Plane, UncertaintyCause Cause)> variants = [.. PlaneVariants.Of(problem, x, fit.Fit.Information, photo.WidthPx, photo.HeightPx)];
        if (options.CardScaleSd > 0)
            variants.Add((plane.Scaled(1 + (options.CardScaleSd / options.CardScale)), UncertaintyCause.CardPrint));
        variants.AddRange(AssumedCards.Variants(fit, lens, options, middle));
        variants.AddRange(otherReadings.Select(o => (PlaneFrame.Of(o.Problem.Camera(o.Fit.X), o.Problem.Homography(o.Fit.X), middle).Plane, UncertaintyCause.CardOff)));
        plane = plane.WithVariants(variants);

        SolvedCard[] cards = [.. problem.Cards.Select((c, i) => Card(c, i)).OrderBy(c => c.Letter)];
        (Vec2 foot, double height) = plane.CameraPosition();
        double aside = plane.ToPlane(plane.Camera.PrincipalPx).DistanceTo(foot);
        return new PlaneSolution(
            plane, cards, lens.Source, Math.Atan2(aside, height) * 180 / Math.PI, Math.Sqrt((aside * aside) + (height * height)), plane.MmPerPx(plane.ToPlane(middle)),
            ScaleUncertaintyPercent(plane, photo), Math.Max(options.LeastCornerSdPx, fit.Fit.SdPx))
        {
            CardsOff = AssumedCards.Off(fit, lens, options, middle),
        };

        SolvedCard Card(CardSighting seen, int card)
        {
            (Vec2 cardMiddle, double turn) = problem.CardPlace(x, card);
            double squares = 0;
            for (int i = 0; i < problem.Corners; i++)
            {
                if (problem.CardOf[i] == card)
                    squares += (fit.Fit.ResidualsPx[2 * i] * fit.Fit.ResidualsPx[2 * i]) + (fit.Fit.ResidualsPx[(2 * i) + 1] * fit.Fit.ResidualsPx[(2 * i) + 1]);
            }

            Vec2[] pattern = [.. ScaleCard.PatternOutlineMm.Select(InPlane)];
            Vec2[] board =
            [
                InPlane(-BoardBorderMm), InPlane(new Vec2(ScaleCard.PatternWidthMm + BoardBorderMm.X, -BoardBorderMm.Y)),
                InPlane(new Vec2(ScaleCard.PatternWidthMm, ScaleCard.PatternHeightMm) + BoardBorderMm),
                InPlane(new Vec2(-BoardBorderMm.X, ScaleCard.PatternHeightMm + BoardBorderMm.Y)),
            ];
            return new SolvedCard(seen.Letter, seen.Corners.Count, Math.Sqrt(squares / seen.Corners.Count), seen.SquarePx, pattern, board);

            Vec2 InPlane(Vec2 printMm) => Turn((Turn(PlaneProblem.InCardMm(printMm, options.CardScale), turn) + cardMiddle) - origin, -angle);
        }
    }

    private static Vec2 Turn(Vec2 v, double angle)
    {
        (double sin, double cos) = Math.SinCos(angle);
        return new Vec2((cos * v.X) - (sin * v.Y), (sin * v.X) + (cos * v.Y));
    }

    private static double ScaleUncertaintyPercent(RodPlane plane, PhotoInfo photo)
    {
        Vec2 left = new(photo.WidthPx * 0.25, photo.HeightPx * 0.5);
        Vec2 right = new(photo.WidthPx * 0.75, photo.HeightPx * 0.5);
        double length = Length(plane);
        double variance = plane.Variants.Sum(v => Math.Pow((Length(v) - length) / length, 2));
        return 1.96 * 100 * Math.Sqrt(variance);

        double Length(RodPlane p) => p.ToPlane(left).DistanceTo(p.ToPlane(right));
    }
}
