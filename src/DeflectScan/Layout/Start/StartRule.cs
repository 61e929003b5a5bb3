using DeflectScan.Findings;
using DeflectScan.Layout.Spacing;

namespace DeflectScan.Layout.Start;

/// <summary>
/// A start layout from the reel, the line and the rod: reduction guides that narrow the coils along a cone from the spool's lip
/// to the last of them, then running guides, equally spaced or by equal bow on a typical bend until the bend is measured. A longer rod keeps the reduction
/// part. Stations are whole millimetres: nobody places a guide better.
/// </summary>
public static class StartRule
{
    /// <summary>Second and third reduction spacing as a share of the first guide's distance from the reel: 8.5 and 7 in after 21 in (common practice, no source).</summary>
    private static readonly double[] ReductionShares = [8.5 / 21, 7.0 / 21];

    /// <summary>The layout; refused (guides-uncertain) where none fits.</summary>
    public static Outcome<StartLayout> Plan(StartInput input)
    {
        double span = Math.Round(input.RodLengthMm - input.ReelFrontFromButtMm);
        if (Problem(input, span) is { } problem)
            return Refused(problem);
        Reasoned bore = LeastBore(input);
        double smallest = GuidePractice.SmallestRing(bore.Value);
        if (GuidePractice.BoreMm(smallest) < bore.Value)
            return Refused($"The knot of so strong a line needs a hole of {bore.Value:0} mm, more than any ring has: check the strengths.");
        int reel = input.ReelClass ?? GuidePractice.ReelClasses(input.Kind).Usual;
        IReadOnlyList<Reasoned> spool = input.Kind == RodKind.Spinning ? Spool(input, reel) : [];
        List<StartGuide> guides = input.Kind == RodKind.Spinning
            ? SpinningReduction(span, spool[0].Value, spool[1].Value, First(input, reel), smallest)
            : CastingFirst(span, reel, smallest);
        double last = guides[^1].FromReelMm;
        int running = Math.Max(1, GuidePractice.GuideCount(input.Kind, input.RodLengthMm) - guides.Count);
        if (span - last < (running + 1) * 40)
            return Refused($"The reduction guides end {last:F0} mm from the reel and the tip is {span:F0} mm from it: the rod is too short for this reel class.");
        SpacingPlan? byBow = null;
        if (input.RunningByBow && !SpacingRule.TryBest(TypicalBend.Of(span), RunningSpan.ForBow(span - last, 0), running, new SpacingOptions(), out byBow))
            return Refused("The running guides find no room by equal bow: start them equally spaced.");
        double ring = Math.Min(guides[^1].RingSize, Math.Max(smallest, GuidePractice.NearestRing(guides[^1].RingSize * 0.7)));
        guides.AddRange(byBow is null
            ? Even(span, last, running).Select(at => Running(span, at, EquallySpaced(at), ring, smallest))
            : byBow.StationsMm.Select(s => span - s).Select(at => Running(span, at, ByBow(at), ring, smallest)));
        guides.Add(TipTop(span, ring, smallest));
        return Outcome<StartLayout>.Of(new StartLayout(
            guides, spool, bore,
            new(guides.Count - 1, Grounds.CommonPractice, input.Kind == RodKind.Casting ? "One guide a foot of rod and two more, as the line must not fall on the blank." : "One guide a foot of rod and one more.")));

        static Outcome<StartLayout> Refused(string message) => Outcome<StartLayout>.Refused(FindingCode.GuidesUncertain, message);
    }

    /// <summary>Stations from the reel, equally spaced between the last reduction guide and the tip.</summary>
    private static IEnumerable<double> Even(double span, double last, int running) =>
        Enumerable.Range(1, running).Select(i => Math.Round(last + ((span - last) * i / (running + 1))));

    private static Reasoned EquallySpaced(double at) => new(at, Grounds.CommonPractice, "Running guides start equally spaced; the measured bend says where they go.");

    private static Reasoned ByBow(double at) => new(
        at, Grounds.Geometry, "Running guides start by equal bow on a typical bend (tip turned by 75 degrees, usual taper: common practice, no source); the measured bend says where they go.");

    private static StartGuide Running(double span, double at, Reasoned station, double ring, double smallest) => new(
        GuideRole.Running, at, span - at, station, ring, RingOf(ring, smallest, "Running rings are one or two sizes under the last reduction ring."), null, null);

    private static StartGuide TipTop(double span, double ring, double smallest) => new(
        GuideRole.TipTop, span, 0, new(span, Grounds.Given, "The tip."), ring, RingOf(ring, smallest, "The tip-top has the running guides' ring."), null, null);

    private static string? Problem(StartInput input, double span) => input switch
    {
        { ReelClass: { } reel } when reel < GuidePractice.ReelClasses(input.Kind).Least || reel > GuidePractice.ReelClasses(input.Kind).Largest => Unknown(reel, input.Kind),
        { LineStrengthKg: <= 0 } or { LeaderStrengthKg: <= 0 } or { SpoolLipMm: <= 0 } or { SpoolAxisHeightMm: <= 0 } =>
            "Strengths and spool measures must be more than zero.",
        _ => span > 300 ? null : $"Only {span:F0} mm lie between the reel's front and the tip: check the rod's length and the handle's.",
    };

    private static string Unknown(int reel, RodKind kind)
    {
        (int least, int largest, _) = GuidePractice.ReelClasses(kind);
        return kind == RodKind.Casting
            ? $"{reel} is no size of a reel with a turning spool that is known here: give one from {least} to {largest}."
            : $"{reel} is no reel class that is known here: give one from {least} to {largest}, and the spool's own measures.";
    }

    private static IReadOnlyList<Reasoned> Spool(StartInput input, int reel)
    {
        (double lip, double height, _) = GuidePractice.Spool(reel);
        return
        [
            input.SpoolLipMm is { } given ? new(given, Grounds.Given, "The spool's lip.") : new(Math.Round(lip), Grounds.CommonPractice, "Usual lip of the class."),
            input.SpoolAxisHeightMm is { } own ? new(own, Grounds.Given, "The spool's axis over the blank's.") : new(Math.Round(height), Grounds.CommonPractice, "Usual height of the class."),
        ];
    }

    private static Reasoned First(StartInput input, int reel)
    {
        (double lip, _, double first) = GuidePractice.Spool(reel);
        return input.SpoolLipMm is { } own
            ? new(Math.Round(first * own / lip), Grounds.Geometry, $"A cone of the same shape from a {own:F0} mm lip: the class's {first:F0} mm times {own:F0} / {lip:F0}.")
            : new(Math.Round(first), Grounds.CommonPractice, $"Where the first guide of a class {reel} reel usually starts.");
    }

    private static Reasoned LeastBore(StartInput input)
    {
        double line = GuidePractice.LineDiameterMm(input.Line, input.LineStrengthKg);
        if (input.LeaderStrengthKg is not { } leaderKg)
            return new(GuidePractice.BoreForKnotMm(line * 2), Grounds.CommonPractice, $"No leader: the {line:F2} mm line alone, room for a wind knot.");
        double leader = GuidePractice.LineDiameterMm(LineKind.Monofilament, leaderKg);
        double knot = GuidePractice.KnotMm(leader, line);
        return new(
            GuidePractice.BoreForKnotMm(knot),
            Grounds.CommonPractice,
            $"The knot of a {leader:F2} mm leader and a {line:F2} mm line is about {knot:F1} mm thick; the hole should be three times that.");
    }

    private static List<StartGuide> SpinningReduction(double span, double lip, double height, Reasoned first, double smallest)
    {
        double at1 = first.Value;
        double at2 = Math.Round(at1 + (at1 * ReductionShares[0]));
        double at3 = Math.Round(at2 + (at1 * ReductionShares[1]));
        double size1 = GuidePractice.NearestRing(lip * 0.6);
        double size2 = GuidePractice.NearestRing(size1 / 2);
        double size3 = Math.Max(smallest, GuidePractice.NearestRing(size2 * 0.65));
        double bore3 = GuidePractice.BoreMm(size3);
        Reasoned second = new(at2, Grounds.CommonPractice, "8 to 9 in after a first guide at 21 in, in proportion.");
        Reasoned third = new(at3, Grounds.CommonPractice, "6 to 8 in further for a first guide at 21 in, in proportion.");
        return
        [
            Guide(at1, first, size1, "The first ring is half to two thirds of the spool's lip."),
            Guide(at2, second, Math.Max(size2, smallest), "The second ring is about half the first."),
            Guide(at3, third, size3, "The last reduction ring is about two thirds of the second: the point of the cone."),
        ];

        StartGuide Guide(double at, Reasoned station, double size, string why)
        {
            double t = at / at3;
            double cone = lip + (t * (bore3 - lip));

            // The ring centre over the last reduction guide stands about its own size above the axis: a low frame.
            double over = height + (t * ((size3 * 1.4) - height));
            return new StartGuide(GuideRole.Reduction, at, span - at, station, size, RingOf(size, smallest, why), cone, over);
        }
    }

    // The first guide alone is a reduction guide on a casting rod: the line comes off straight.
    private static List<StartGuide> CastingFirst(double span, int reel, double smallest)
    {
        (double ring, double at) = GuidePractice.TurningSpool(reel);
        double size = Math.Max(smallest, ring);
        at = Math.Round(at);
        Reasoned place = new(at, Grounds.CommonPractice, "The first casting guide stands about 450 to 560 mm ahead of the reel, farther for larger reels.");
        return [new(GuideRole.Reduction, at, span - at, place, size, RingOf(size, smallest, "Takes the line from the level wind."), null, null)];
    }

    private static Reasoned RingOf(double size, double smallest, string why) => new(
        size, Grounds.CommonPractice, size <= smallest ? $"{why} It is the smallest that the knot passes." : why);
}
