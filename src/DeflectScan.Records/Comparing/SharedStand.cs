using DeflectScan.Geometry;

namespace DeflectScan.Records.Comparing;

/// <summary>
/// Two photos of one rod whose camera, cards and clamp stayed where they were. What both share (lens, the cards' print, place and flatness, where the tip
/// ends) cancels in a difference; what each photo sees for itself stays.
/// </summary>
/// <param name="CameraShiftPx">How far the cards lie apart in both photos, px: the mean of a card's corners, whose noise is half of one's, of the card that moved farthest.</param>
/// <param name="RodMovedMm">Largest distance across the blank between both axes, once the camera's own shift is taken off, mm.</param>
/// <param name="RodMovedAtMm">Where that is, from the tip before.</param>
/// <param name="RodMovedWithinMm">How much of that seeing the blank twice may make, 95 %.</param>
/// <param name="ScaleShare">Of a change, its relative uncertainty by the scale.</param>
public sealed record SharedStand(double CameraShiftPx, double RodMovedMm, double RodMovedAtMm, double RodMovedWithinMm, double ScaleShare)
{
    /// <summary>A camera that was touched moves farther: from here on what is seen falls on other pixels, px.</summary>
    private const double StillPx = 0.3;

    /// <summary>A camera that was set up anew moves farther than this share of the photo's longer side (chosen): its lens and tilt are others.</summary>
    private const double SameStandShare = 0.01;

    /// <summary>One blank measured twice differs less in length than this share (chosen; the traced end is seen, not fixed).</summary>
    private const double SameBlankShare = 0.03;

    /// <summary>
    /// How much of what seeing makes uncertain differs between two photos of a scene in which nothing moved, camera and light included: most of it is a
    /// property of wall, light and line, not of the noise. From 30 rendered scenes; with the two rules below 98.1 % of
    /// 212 gaps of 25 further ones lay within what it makes (12 MP, seeds from 880001 and from 990001 on; the rules were made on most of them), and
    /// 96.8 % of 93 of 11 that nothing was made on (seeds from 7770001 on; DeflectScan.Campaigns series).
    /// </summary>
    internal const double StillShare = 0.32;

    /// <summary>
    /// What one photo sees less well than the other by more than this is its own and stays: its line or an edge was read otherwise. A scatter seen in 20 windows is
    /// known to 1 / sqrt(2 * 20) = 16 % (JCGM 100:2008, E.4.3), two of them differ by 22 %.
    /// </summary>
    internal const double AlikeTimes = 1.25;

    /// <summary>
    /// Where more of the pairs than this differ so, light or line was seen otherwise all along, and what both share is not known (chosen). Before this and
    /// <see cref="AlikeTimes"/>, such photos had 12 of the 15 gaps that lay outside what was stated of those 212.
    /// </summary>
    private const double UnlikeShare = 0.25;

    /// <summary>Pairs whose guides lie within so many mm in both photos are the same ones here (chosen).</summary>
    private const double SamePairMm = 3;

    /// <summary>The scale is of the whole photo; over a short piece of a tilted plane it may be off by twice as much (chosen).</summary>
    private const double LocalScale = 2;

    /// <summary>Ends of the blank that are left out where both axes are laid on each other, mm: the tip is a knot, the other end a handle.</summary>
    private const double EndsMm = 20;

    /// <summary>Least that two tracings of a blank that stood still may differ by, px, 95 %.</summary>
    private const double LeastPx = 0.25;

    /// <summary>The camera stood as still as the pixels can show.</summary>
    public bool CameraStood => CameraShiftPx <= StillPx;

    /// <summary>The rod itself moved by more than seeing leaves open.</summary>
    public bool RodMoved => RodMovedMm > RodMovedWithinMm;

    /// <summary>Nothing but what is asked about moved: what is seen falls on the same pixels, before the same wall, in the same light.</summary>
    public bool IsStill => CameraStood && !RodMoved;

    /// <summary>Both photos are as sure as each other, pair by pair: else more than noise differs, and differences are taken for those of two photos that share no light.</summary>
    internal bool IsSeenAlike { get; init; } = true;

    /// <summary>What both measurements share; null where they are not of one stand, or where one was made before documents kept what is needed.</summary>
    public static SharedStand? Of(Measurement before, Measurement after)
    {
        if (before.Photo is not { } first || after.Photo is not { } second || (first.WidthPx, first.HeightPx) != (second.WidthPx, second.HeightPx) || first.Sha256 == second.Sha256)
            return null;
        if (before.Calibration is not { Cards.Count: > 0 } one || after.Calibration is not { } other || one.Lens != other.Lens || before.Side != after.Side)
            return null;
        if (before.Intervals.Concat(after.Intervals).Any(i => i.Seen is null) || before.Intervals.Count == 0 || after.Intervals.Count == 0)
            return null;
        double length = before.Blank!.TracedLengthMm;
        if (Math.Abs(after.Blank!.TracedLengthMm - length) > SameBlankShare * length || !Corners(one, other, out Vec2[] was, out Vec2[] now))
            return null;
        double shift = was.Zip(now, (a, b) => b - a).Chunk(4).Max(card => (card.Aggregate(default(Vec2), (sum, v) => sum + v) / card.Length).Length);
        if (shift > SameStandShare * Math.Max(first.WidthPx, first.HeightPx))
            return null;
        RigidMotion back = shift > StillPx ? RigidMotion.Fit(now, was) : default;
        (double moved, double at) = FarthestApart(before.Blank, after.Blank, back);
        double within = Math.Max(LeastPx * one.MmPerPx, StillShare * Math.Sqrt(2) * before.Guides.Concat(after.Guides).Max(g => g.HeightSeenMm ?? 0));
        return new SharedStand(shift, moved, at, within, LocalScale * one.ScaleUncertaintyPercent / 100) { IsSeenAlike = AreSeenAlike(before, after) };
    }

    /// <summary>Uncertainty of a difference, 95 %, mm.</summary>
    /// <param name="beforeSeen">What seeing makes of the earlier figure's uncertainty.</param>
    /// <param name="afterSeen">The same of the later one.</param>
    /// <param name="by">The difference.</param>
    /// <param name="isStill">What it is of stayed where it was, and so did the camera.</param>
    internal double OfDifference(double beforeSeen, double afterSeen, double by, bool isStill)
    {
        double both = (beforeSeen * beforeSeen) + (afterSeen * afterSeen);
        return Math.Sqrt((isStill && IsStill && IsSeenAlike ? (StillShare * StillShare * both) + Own(beforeSeen, afterSeen) : both) + Math.Pow(ScaleShare * by, 2));
    }

    private static bool AreSeenAlike(Measurement before, Measurement after)
    {
        (double First, double Second)[] same =
        [
            .. before.Intervals.SelectMany(b => after.Intervals.Where(a => Near(b.From, a.From) && Near(b.To, a.To)).Select(a => (b.Seen!.GapMm, a.Seen!.GapMm))),
        ];
        return same.Count(p => Own(p.First, p.Second) > 0) <= UnlikeShare * same.Length;

        bool Near(int first, int second) => Math.Abs(before.Guides[first - 1].StationMm - after.Guides[second - 1].StationMm) < SamePairMm;
    }

    private static double Own(double one, double other) => Math.Max(0, Math.Pow(Math.Max(one, other), 2) - Math.Pow(AlikeTimes * Math.Min(one, other), 2));

    /// <summary>The corners of the cards that are in both; false where a card is in one of them alone.</summary>
    private static bool Corners(CalibrationReport before, CalibrationReport after, out Vec2[] was, out Vec2[] now)
    {
        (CardReport First, CardReport? Second)[] cards = [.. before.Cards.Select(c => (c, after.Cards.FirstOrDefault(k => k.Letter == c.Letter)))];
        bool isSame = cards.Length == after.Cards.Count && cards.All(c => c.Second is not null && c.First.OutlinePx.Count == 4 && c.Second.OutlinePx.Count == 4);
        was = isSame ? [.. cards.SelectMany(c => c.First.OutlinePx)] : [];
        now = isSame ? [.. cards.SelectMany(c => c.Second!.OutlinePx)] : [];
        return isSame;
    }

    private static (double Mm, double AtMm) FarthestApart(BlankReport before, BlankReport after, RigidMotion back)
    {
        ArcCurve was = ArcCurve.Through([.. before.Axis.Select(a => a.Px)]);
        double most = 0;
        double at = 0;
        foreach (AxisSample sample in after.Axis.Where(a => a.SMm > EndsMm && a.SMm < Math.Min(after.TracedLengthMm, before.TracedLengthMm) - EndsMm))
        {
            (double s, double off) = was.Nearest(back.Apply(sample.Px), sample.SMm / after.TracedLengthMm * was.Length);
            double mmPerPx = before.TracedLengthMm / was.Length;
            if (Math.Abs(off) * mmPerPx > most)
                (most, at) = (Math.Abs(off) * mmPerPx, s * mmPerPx);
        }

        return (most, at);
    }
}
