using DeflectScan.Calibration;
using DeflectScan.Calibration.Cards;
using DeflectScan.Calibration.Lens;
using DeflectScan.Findings;
using DeflectScan.Measuring.Figures;
using DeflectScan.Measuring.Prints;
using DeflectScan.Photos;
using DeflectScan.Tracing;
using DeflectScan.Tracing.Blank;
using DeflectScan.Tracing.Cord;
using DeflectScan.Tracing.Line;
using DeflectScan.Tracing.Reading;

namespace DeflectScan.Measuring;

/// <summary>The stages in order: photo, rod plane, blank, line, cord, figures. The one way through.</summary>
public static class MeasurePipeline
{
    /// <summary>Measures one photo.</summary>
    /// <param name="photoPath">A JPEG, PNG or WebP file.</param>
    /// <param name="options">What a person knows besides.</param>
    /// <param name="progress">Told the stage that begins, in words for a person.</param>
    /// <param name="cancel">Asked between the stages.</param>
    public static Measurement Measure(
        string photoPath, MeasureOptions options, IProgress<string>? progress = null, CancellationToken cancel = default)
    {
        using MeasureRun run = Run(photoPath, options, progress, cancel);
        return run.Measurement;
    }

    /// <summary>Measures one photo and keeps what its pictures are drawn from. A progress that is an <see cref="IMeasureWatch"/> is shown what the stages find.</summary>
    public static MeasureRun Run(
        string photoPath, MeasureOptions options, IProgress<string>? progress = null, CancellationToken cancel = default)
    {
        using CancellationTokenSource limit = CancellationTokenSource.CreateLinkedTokenSource(cancel);
        CancellationToken token = limit.Token;
        Task<MeasureRun> work = Task.Run(() => RunUnlimited(photoPath, options, progress, token), CancellationToken.None);
        if (Task.WaitAny(new Task[] { work }, (int)options.TimeLimit.TotalMilliseconds, cancel) == 0)
            return work.GetAwaiter().GetResult();

        // A stage that hangs is left behind: it ends with the process, or stops before its next stage and puts its photo away.
        limit.Cancel();
        _ = work.ContinueWith(
            done =>
            {
                if (done.IsCompletedSuccessfully)
                    done.Result.Dispose();
                else
                    _ = done.Exception;
            },
            CancellationToken.None, TaskContinuationOptions.ExecuteSynchronously, TaskScheduler.Default);
        FindingLedger ledger = new();
        ledger.Add(Finding.Refuse(
            FindingCode.FileTooLarge,
            $"The measurement took longer than {options.TimeLimit.TotalSeconds:0} s and was given up: use a smaller photo, a plainer background, or allow more time."));
        return new MeasureRun(MeasurementBuilder.Refused(null, ledger), null, null, null);
    }

    private static MeasureRun RunUnlimited(string photoPath, MeasureOptions options, IProgress<string>? progress, CancellationToken cancel)
    {
        FindingLedger ledger = new();
        progress?.Report("Opening the photo");
        TrainedNets.Begin(toMeasure: true);
        IMeasureWatch? watch = progress as IMeasureWatch;
        UprightPhoto? photo = ledger.Take(PhotoOpener.Open(photoPath, options.PhotoLimits));
        if (photo is null)
        {
            watch?.Unreadable(ledger.Findings);
            return new MeasureRun(MeasurementBuilder.Refused(null, ledger), null, null, null);
        }

        try
        {
            return Run(photo, options, ledger, Stages, watch);
        }
        catch
        {
            photo.Dispose();
            throw;
        }

        void Stages(string name)
        {
            cancel.ThrowIfCancellationRequested();
            progress?.Report(name);
        }
    }

    private static MeasureRun Run(UprightPhoto photo, MeasureOptions options, FindingLedger ledger, Action<string> stage, IMeasureWatch? watch)
    {
        stage("Finding the scale cards");
        IReadOnlyList<CardSighting> cards = CardFinder.Find(photo);
        LensChoice lens = LensChoice.For(photo.Info, options.LensFile, options.LensFolders);
        Outcome<PlaneSolution> scaled = PlaneSolver.Solve(cards, photo.Info, PlaneChoice(options, lens.Profile));
        watch?.Scaled(photo, scaled);
        PlaneSolution? solved = ledger.Take(scaled);
        if (solved is null)
            return new MeasureRun(MeasurementBuilder.Refused(photo.Info, ledger), photo, null, null);
        ledger.Add(lens.Findings);
        ledger.Add(LoneCard.Notes(solved));
        if (lens.Profile is { } profile && LensFit.Focus(profile, photo.Info, solved.DistanceMm) is { } focus)
            ledger.Add(focus);

        stage("Tracing the blank");
        Outcome<BlankAxis> traced = AxisTracer.Trace(photo, solved.Plane, AxisChoice(options, photo, solved));
        BlankAxis? axis = ledger.Take(traced);
        IReadOnlyList<Finding>? atRest = options.AtRest && axis is not null ? [.. AtRest(photo, solved, axis, options)] : null;
        watch?.Traced(photo, solved, traced, atRest);
        if (axis is null)
            return new MeasureRun(MeasurementBuilder.Refused(photo.Info, ledger, solved), photo, solved.Plane, null);
        if (atRest is not null)
        {
            ledger.Add(atRest);
            return new MeasureRun(MeasurementBuilder.AtRest(photo, solved, axis, ledger), photo, solved.Plane, axis);
        }

        stage("Following the line through the rings");
        Outcome<LineTrace> followed = LineTracer.Trace(photo, solved.Plane, axis, LineChoice(options));
        watch?.Followed(followed);
        LineTrace? line = ledger.Take(followed);
        if (line is null)
            return new MeasureRun(MeasurementBuilder.Refused(photo.Info, ledger, solved), photo, solved.Plane, axis);

        PlaneTrace trace = PlaneTrace.AtTip(axis, [.. line.Rings.Select(r => r.ContactMm)]);
        if (lens.Profile is null && HeldByLine(cards, photo.Info, PlaneChoice(options, null), solved, line) is { } held)
        {
            (trace, line) = (trace.CarriedTo(held.Plane, solved.Plane), line.CarriedTo(held.Plane, solved.Plane));
            solved = held;
        }

        if (TipCheck.OutsideFrame(trace, solved.Plane, photo, options.Marks.TipPx is not null) is { } outside)
        {
            ledger.Add(outside);
            return new MeasureRun(MeasurementBuilder.Refused(photo.Info, ledger, solved), photo, solved.Plane, axis);
        }

        stage("Looking for the cord");
        CordTrace? cord = options.PullDirectionDeg is null ? CordTracer.Trace(photo, solved.Plane, trace.Axis, line.HangEndMm) : null;

        if (TipCheck.Of(trace, line, cord, solved.Plane.MmPerPx(trace.ContactsMm[^1]), options.Marks.TipPx is not null) is { } noTip)
            ledger.Add(noTip);
        line = TipCheck.ByReading(trace, line, cord, solved.Plane.MmPerPx(trace.ContactsMm[^1]));

        stage("Working out the gaps");
        SettledTrace settled = SettledTrace.Of(photo, solved, trace, line, options, ledger);
        Measurement measurement = MeasurementBuilder.Build(photo, settled, options, ledger) with
        {
            Pull = PullBuilder.Build(cord, trace, line, solved.Plane, options),
        };
        return new MeasureRun(measurement, photo, settled.Solved.Plane, settled.Trace.Axis);
    }

    private static IEnumerable<Finding> AtRest(UprightPhoto photo, PlaneSolution solved, BlankAxis axis, MeasureOptions options) =>
        [
            .. TipCheck.AtRest(photo, solved.Plane, axis, options.Marks.TipPx is not null) is { } cut ? (Finding[])[cut] : [],
            .. RestCheck.Of(MeasurementBuilder.TurnDeg(axis.Curve), CordTracer.Trace(photo, solved.Plane, axis, null)),
        ];

    /// <summary>
    /// The plane solved again with what the straight pieces of line say of the lens; null where that adds a doubt, so that the first stands.
    /// </summary>
    private static PlaneSolution? HeldByLine(
        IReadOnlyList<CardSighting> cards, PhotoInfo photo, CalibrationOptions options, PlaneSolution first, LineTrace line)
    {
        Outcome<PlaneSolution> again = PlaneSolver.Solve(cards, photo, options with { StraightPieces = line.Pieces, NearCamera = first.Plane.Camera });
        return again.IsRefused || again.Value.Cards.Count != first.Cards.Count ? null : again.Value;
    }

    private static CalibrationOptions PlaneChoice(MeasureOptions options, LensProfile? lens) => new()
    {
        CardScale = options.CardScale,
        CardScaleSd = options.CardScalePlusMinus / Math.Sqrt(3),
        AssumedOffPlaneMm = options.CardOffMm ?? MeasureOptions.UsualCardOffMm,
        LoneCardHeightSdMm = options.CardOffMm is null ? CalibrationOptions.Default.ByHandHeightSdMm : 0,
        LoneCardLeanSdDeg = options.CardOffMm is { } off ? LeanSdDeg(off) : CalibrationOptions.Default.ByHandLeanSdDeg,
        AssumedBendMm = options.CardBendMm,
        Lens = lens,
    };

    // A card whose ends both stand within ± so many mm of the plane.
    private static double LeanSdDeg(double offMm) => Math.Atan(offMm / Math.Sqrt(3) / (ScaleCard.PatternHeightMm / 2)) * 180 / Math.PI;

    private static AxisOptions AxisChoice(MeasureOptions options, UprightPhoto photo, PlaneSolution solved)
    {
        PrintSharpness? print = PrintSharpness.Of(photo, solved.Plane, solved.Cards);
        return new AxisOptions
        {
            PrintBlurPx = print?.BlurPx ?? solved.Cards.Max(c => CardLook.Of(photo, solved.Plane, c)?.BlurPx),
            Sharpening = print?.Mask,
            AtRest = options.AtRest,
            TipMarkPx = options.Marks.TipPx,
            ButtMarkPx = options.Marks.ButtPx,
            BlankMarksPx = options.Marks.BlankPx,
        };
    }

    private static LineOptions LineChoice(MeasureOptions options) => new()
    {
        ExpectedGuides = options.GuideCount + 1,
        Side = options.Side,
        MarkedRingsPx = options.Marks.RingsPx,
        MarksAreComplete = options.Marks.IsComplete,
    };
}
