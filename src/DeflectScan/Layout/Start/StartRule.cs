using System.Diagnostics.CodeAnalysis;

namespace DeflectScan.Layout.Start;

/// <summary>
/// A start layout from the reel, the line and the rod: reduction guides that narrow the coils along a cone from the spool's lip
/// to the last of them, then running guides, equally spaced until the bend is measured. A longer rod keeps the reduction part.
/// </summary>
public static class StartRule
{
    /// <summary>Second and third reduction spacing as a share of the first guide's distance from the reel: 8.5 and 7 in after 21 in (common practice, no source).</summary>
    private static readonly double[] ReductionShares = [8.5 / 21, 7.0 / 21];

    /// <summary>The layout, or one plain sentence that says why none fits.</summary>
    public static bool TryPlan(StartInput input, [NotNullWhen(true)] out StartLayout? layout, [NotNullWhen(false)] out string? problem)
    {
        layout = null;
        double span = input.RodLengthMm - input.ReelFrontFromButtMm;
        problem = Problem(input, span);
        if (problem is not null)
            return false;
        Reasoned bore = LeastBore(input);
        double smallest = GuidePractice.SmallestRing(bore.Value);
        (Reasoned lip, Reasoned height, Reasoned first) = Spool(input);
        List<StartGuide> guides = input.Kind == RodKind.Spinning
            ? SpinningReduction(span, lip.Value, height.Value, first, smallest)
            : CastingReduction(span, first, smallest);
        double last = guides[^1].FromReelMm;
        int running = Math.Max(1, GuidePractice.GuideCount(input.Kind, input.RodLengthMm) - guides.Count);
        if (span - last < (running + 1) * 40)
        {
            problem = $"The reduction guides end {last:F0} mm from the reel and the tip is {span:F0} mm from it: the rod is too short for this reel class.";
            return false;
        }

        double ring = Math.Min(guides[^1].RingSize, Math.Max(smallest, GuidePractice.NearestRing(guides[^1].RingSize * 0.7)));
        for (int i = 1; i <= running; i++)
        {
            double at = last + ((span - last) * i / (running + 1));
            guides.Add(new StartGuide(
                GuideRole.Running,
                at,
                span - at,
                new(at, Basis.CommonPractice, "Running guides start equally spaced; the measured bend says where they go."),
                ring,
                RingOf(ring, smallest, "Running rings are one or two sizes under the last reduction ring."),
                null,
                null));
        }

        guides.Add(new StartGuide(
            GuideRole.TipTop,
            span,
            0,
            new(span, Basis.Given, "The tip."),
            ring,
            RingOf(ring, smallest, "The tip-top has the running guides' ring."),
            null,
            null));
        layout = new StartLayout(guides, [lip, height], bore);
        return true;
    }

    private static string? Problem(StartInput input, double span) => input switch
    {
        { ReelClass: < 500 or > 10000 } => $"{input.ReelClass} is no reel class that is known here: give one from 1000 to 5000, or the spool's own measures.",
        { LineStrengthKg: <= 0 } or { LeaderStrengthKg: <= 0 } or { SpoolLipMm: <= 0 } or { SpoolAxisHeightMm: <= 0 } =>
            "Strengths and spool measures must be more than zero.",
        _ => span > 300 ? null : $"Only {span:F0} mm lie between the reel's front and the tip: check the rod's length and the handle's.",
    };

    private static (Reasoned Lip, Reasoned Height, Reasoned First) Spool(StartInput input)
    {
        (double lip, double height, double first) = GuidePractice.Spool(input.ReelClass);
        if (input.Kind == RodKind.Casting)
        {
            return (
                new(lip, Basis.CommonPractice, "Not used: a turning spool gives the line off straight."),
                new(height, Basis.CommonPractice, "Not used: a turning spool gives the line off straight."),
                new(510, Basis.CommonPractice, "The first casting guide stands about 450 to 560 mm ahead of the reel."));
        }

        Reasoned distance = input.SpoolLipMm is { } own
            ? new(first * own / lip, Basis.Geometry, $"A cone of the same shape from a {own:F0} mm lip: the class's {first:F0} mm times {own:F0} / {lip:F0}.")
            : new(first, Basis.CommonPractice, $"Where the first guide of a class {input.ReelClass} reel usually starts.");
        return (
            input.SpoolLipMm is { } given ? new(given, Basis.Given, "The spool's lip.") : new(lip, Basis.CommonPractice, "Usual lip of the class."),
            input.SpoolAxisHeightMm is { } own2
                ? new(own2, Basis.Given, "The spool's axis over the blank's.")
                : new(height, Basis.CommonPractice, "Usual height of the class."),
            distance);
    }

    private static Reasoned LeastBore(StartInput input)
    {
        double line = GuidePractice.LineDiameterMm(input.Line, input.LineStrengthKg);
        if (input.LeaderStrengthKg is not { } leaderKg)
            return new(GuidePractice.BoreForKnotMm(line * 2), Basis.CommonPractice, $"No leader: the {line:F2} mm line alone, room for a wind knot.");
        double leader = GuidePractice.LineDiameterMm(LineKind.Monofilament, leaderKg);
        double knot = GuidePractice.KnotMm(leader);
        return new(
            GuidePractice.BoreForKnotMm(knot),
            Basis.CommonPractice,
            $"The knot of a {leader:F2} mm leader is about {knot:F1} mm thick; the hole should be three times that.");
    }

    private static List<StartGuide> SpinningReduction(double span, double lip, double height, Reasoned first, double smallest)
    {
        double at1 = first.Value;
        double at2 = at1 + (at1 * ReductionShares[0]);
        double at3 = at2 + (at1 * ReductionShares[1]);
        double size1 = GuidePractice.NearestRing(lip * 0.6);
        double size2 = GuidePractice.NearestRing(size1 / 2);
        double size3 = Math.Max(smallest, GuidePractice.NearestRing(size2 * 0.65));
        double bore3 = GuidePractice.BoreMm(size3);
        Reasoned second = new(at2, Basis.CommonPractice, "8 to 9 in after a first guide at 21 in, in proportion.");
        Reasoned third = new(at3, Basis.CommonPractice, "6 to 8 in further for a first guide at 21 in, in proportion.");
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

    private static List<StartGuide> CastingReduction(double span, Reasoned first, double smallest)
    {
        double spacing = 200;
        double size1 = Math.Max(smallest, 10.0);
        double size2 = Math.Max(smallest, 8);
        Reasoned second = new(first.Value + spacing, Basis.CommonPractice, "About 200 mm on: the line must not fall on the blank.");
        return
        [
            new(GuideRole.Reduction, first.Value, span - first.Value, first, size1, RingOf(size1, smallest, "Takes the line from the level wind."), null, null),
            new(GuideRole.Reduction, second.Value, span - second.Value, second, size2, RingOf(size2, smallest, "Steps down to the running rings."), null, null),
        ];
    }

    private static Reasoned RingOf(double size, double smallest, string why) => new(
        size, Basis.CommonPractice, size <= smallest ? $"{why} It is the smallest that the knot passes." : why);
}
