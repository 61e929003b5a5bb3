using DeflectScan.Findings;
using DeflectScan.Layout.Guides;
using DeflectScan.Measuring;
using DeflectScan.Mechanics;
using DeflectScan.Mechanics.Stiffness;

namespace DeflectScan.Bending;

/// <summary>What is known of one blank: documents of its photos, and what a person tells besides.</summary>
/// <param name="Reference">The loaded photo whose pull is the unit, and whose clamp end and layout every bend starts from.</param>
public sealed record BlankSource(Measurement Reference)
{
    /// <summary>Further loaded photos of the same rod, held alike.</summary>
    public IReadOnlyList<Measurement> With { get; init; } = [];

    /// <summary>The rod unloaded in the same set-up.</summary>
    public Measurement? Rest { get; init; }

    /// <summary>
    /// Between the photos only the load was changed: clamp, rod in it and cards were left alone, so that the clamp's angle in the cards' frame is the same.
    /// That fixes other bends several times better than photos that each stand for themselves.
    /// </summary>
    public bool Untouched { get; init; }

    /// <summary>Weight in N of the bare blank beyond the clamp. Null: not known.</summary>
    public double? BlankWeightN { get; init; }

    /// <summary>True when that is a typical value and not a weighed one: its uncertainty is larger.</summary>
    public bool WeightIsTypical { get; init; }

    /// <summary>Guides at hand with their masses. Null: typical masses by the rings' heights.</summary>
    public GuideTable? Guides { get; init; }

    /// <summary>
    /// Length in mm of blank between the end of the traced part and the clamp, which bends unseen (0 to 1000). Null: not told; photos of an untouched set-up
    /// tell it, else the uncertainty of other loads allows for it.
    /// </summary>
    public double? UnseenMm { get; init; }

    /// <summary>Standard deviation in degrees by which a clamp that nobody touched gives under another load; common practice, no source.</summary>
    public const double ClampGivesDeg = 0.1;

    /// <summary>The blank's stiffness as all of it tells it.</summary>
    public Outcome<StiffnessEstimate> Estimate()
    {
        List<MeasuredBend> bends = [];
        List<Finding> findings = [];
        if (Rest is { } rest && NotAtRest(rest) is { } loaded)
        {
            Outcome<StiffnessEstimate> without = (this with { Rest = null }).Estimate();
            return without.IsRefused ? without : Outcome<StiffnessEstimate>.Of(without.Value, [loaded, .. without.Findings]);
        }

        foreach (Outcome<MeasuredBend> photo in (IEnumerable<Outcome<MeasuredBend>>)[PhotoOfBlank.Loaded(Reference), .. With.Select(PhotoOfBlank.Loaded), .. Resting()])
        {
            if (photo.IsRefused)
                return Outcome<StiffnessEstimate>.Refused(photo.Findings);
            bends.Add(photo.Value);
        }

        OwnWeight? weight = OwnWeightOfRod.Of(this);
        StiffnessOptions given = new() { UnseenMm = UnseenMm ?? 0 };
        findings.AddRange(OfOneBlank(bends, weight, given));
        if (findings.Any(f => f.Severity == Severity.Refusal))
            return Outcome<StiffnessEstimate>.Refused(findings);
        if (StatedLoads.Contradiction(bends, [.. Photos.Select(m => m.Calibration?.ScaleUncertaintyPercent ?? 0)], b => StiffnessEstimator.Estimate(b, weight, given).Value) is { } loads)
        {
            findings.Add(loads);
            bends = [.. bends.Select(b => b with { LoadN = null })];
        }

        bool untouched = Untouched && bends.Count > 1;
        if (untouched)
        {
            if (SharedSetup.Downs([.. Photos]) is not { } downs)
            {
                return Outcome<StiffnessEstimate>.Refused(
                    FindingCode.CardMissing, "Photos of an untouched set-up must show the same scale card: measure them again, or do not say that it was left alone.");
            }

            bends = [.. bends.Select((b, i) => b with { Down = downs[i] })];
        }

        if (((IEnumerable<Measurement>)[Reference, .. With]).Any(m => m.Status == MeasurementStatus.NeedsReview) || Rest?.Findings.Any(ConcernsTheBlank) == true)
            findings.Add(Finding.Review(FindingCode.GuidesUncertain, "A measurement needs review: look at its warnings before trusting the bends computed from it."));
        findings.AddRange(LengthsDiffer());
        HeldEnd held = HeldEnd.Of(untouched, UnseenMm, options => StiffnessEstimator.Estimate(bends, weight, options).Value);
        if (held.Said is { } said)
            findings.Add(said);
        Outcome<StiffnessEstimate> estimate = StiffnessEstimator.Estimate(bends, weight, held.Options);
        return estimate.IsRefused
            ? Outcome<StiffnessEstimate>.Refused(estimate.Findings)
            : Outcome<StiffnessEstimate>.Of(estimate.Value, [.. findings, .. estimate.Findings, .. WhatIsLeftOut(estimate.Value, held)]);
    }

    // A rod at rest hardly bends and its line hangs slack: what that leaves open about guides does not touch the blank.
    private static bool ConcernsTheBlank(Finding f) =>
        f.Severity == Severity.Review && f.Code is not (FindingCode.BendTooSmall or FindingCode.GuidesUncertain or FindingCode.LineNotSeen);

    private IEnumerable<Measurement> Photos => [Reference, .. With, .. Rest is null ? (Measurement[])[] : [Rest]];

    /// <summary>What is said of a photo at rest that shows a loaded rod; it is left out then.</summary>
    private static Finding? NotAtRest(Measurement rest)
    {
        string? seen = rest.Pull?.DirectionDeg is not null ? "shows a cord that pulls the tip"
            : rest.Blank is { } blank && RestCheck.TurnsTooFar(blank.TipTurnDeg) is not null ? $"shows a tip that is turned by {blank.TipTurnDeg:0} degrees, more than a rod at rest is bent by itself"
            : null;
        return seen is null ? null : Finding.Review(FindingCode.BendExcessive, $"The photo given as of the rod at rest {seen}: it was left out; let the rod down, photograph it, and measure that as a rod at rest.");
    }

    /// <summary>What speaks against all photos' being of one blank; the photo at rest by its thickness alone.</summary>
    private IEnumerable<Finding> OfOneBlank(IReadOnlyList<MeasuredBend> bends, OwnWeight? weight, StiffnessOptions options)
    {
        if (With.Count == 0 && Rest is null)
            return [];
        StiffnessEstimate?[] alone = [.. bends.Take(1 + With.Count).Select(b => With.Count == 0 ? null : StiffnessEstimator.Estimate([b], weight, options).Value)];
        return Photos.Skip(1).Select((m, i) => SameBlank.Against(Reference, m, i < With.Count ? alone[0] : null, i < With.Count ? alone[i + 1] : null));
    }

    private IEnumerable<Outcome<MeasuredBend>> Resting() => Rest is null ? [] : [PhotoOfBlank.AtRest(Rest)];

    // Photos of the same rod show the same length; the end towards the handle may be traced a little differently.
    private IEnumerable<Finding> LengthsDiffer()
    {
        const double MostMm = 40;
        double here = Reference.Blank!.TracedLengthMm;
        return ((IEnumerable<Measurement?>)[.. With, Rest])
            .Where(m => m is not null && Math.Abs(m.Blank!.TracedLengthMm - here) > MostMm)
            .Select(m => Finding.Review(
                FindingCode.GuidesUncertain,
                $"The photos show different lengths of blank ({here:0} and {m!.Blank!.TracedLengthMm:0} mm): give photos of the same rod, clamped alike."));
    }

    private IEnumerable<Finding> WhatIsLeftOut(StiffnessEstimate estimate, HeldEnd held)
    {
        if (UnseenMm is null && held.Options.UnseenFound is null)
            yield return Finding.Note(FindingCode.ButtOutsideFrame, "How much blank bends unseen between the end of its trace and the clamp was not told; it is 0 where the clamp grips it there, and photos between which the clamp was left alone tell it by themselves: the uncertainty of other loads allows for some 400 mm.");
        if (estimate.RestIsKnown && !Untouched)
            yield return Finding.Note(FindingCode.BendTooSmall, "The photo at rest is taken as of a rod that may have been clamped anew: if only the load was changed between the photos, say so, and other loads become several times surer.");
        if (!estimate.RestIsKnown)
            yield return Finding.Note(FindingCode.BendTooSmall, "No photo at rest was given: the blank may be bent by itself, which the uncertainty of other loads allows for.");
        if (!estimate.WeightIsKnown)
            yield return Finding.Note(FindingCode.BendTooSmall, "Own weight is not known (it takes the blank's weight and the cord's load): the uncertainty of other loads allows for it.");
    }
}
