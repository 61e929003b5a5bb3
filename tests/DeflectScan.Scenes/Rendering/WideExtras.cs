using System.Numerics;
using DeflectScan.Scenes.Rendering.Paint;
using DeflectScan.Tracing;

namespace DeflectScan.Scenes.Rendering;

/// <summary>
/// What wide scenes got later, drawn by a chance of its own so that the first draws stay as they were: reels of many shapes, things in front of
/// the rod, dots beside rings, edges along the blank, few and many and high guides, rods that hardly bend.
/// </summary>
internal static class WideExtras
{
    public static SceneOptions Widened(SceneOptions o, Random r, double difficulty)
    {
        bool outside = o.Side == BendSide.Outside;
        double count = r.NextDouble();
        int guides = count < 0.12 ? r.Next(4, 6) : count < 0.24 ? r.Next(12, 16) : o.Guides;
        bool high = !outside && r.NextDouble() < 0.1;
        bool nearRest = r.NextDouble() < 0.05;
        BuildOptions build = o.Build! with { ReelShape = Fronted(Reel(r), o.Build!.Reel, new Random(unchecked((o.Seed * 7919) + 23))) };
        if (high)
            build = build with { FirstHeightMm = Between(r, 48, 75), RingByHeight = Between(r, 0.5, 0.75), HeightFall = Between(r, 0.4, 0.75) };
        return o with
        {
            Guides = guides,
            TipTurnDeg = nearRest ? Between(r, 5, 20) : o.TipTurnDeg,
            Build = build,
            Backdrop = Behind(o.Backdrop!, r, difficulty),
            InFront = r.NextDouble() < 0.06 + (0.18 * difficulty) ? [.. Enumerable.Range(0, r.NextDouble() < 0.15 ? 2 : 1).Select(_ => Front(r, guides))] : [],
        };
    }

    private static ReelOptions Reel(Random r) => new()
    {
        Spool = (SpoolKind)r.Next(0, 3),
        Casting = (CastingBody)r.Next(0, 3),
        RimMm = r.NextDouble() < 0.6 ? Between(r, 3, 8) : Between(r, 8, 20),
        LipMm = Between(r, 16, 27),
        KnobMm = r.NextDouble() < 0.3 ? Between(r, 3, 12) : 0,
        Bail = r.NextDouble() < 0.8,
        Narrows = Between(r, -0.25, 0.35),
        HoodMm = Between(r, -45, 25),
        HoodLongMm = Between(r, 8, 35),
        ForePieces = r.Next(0, 5),
        CheckMm = Between(r, 3, 14),
    };

    // Later still, by a chance of its own: square fronts, and spools nearer to the blank and farther from it than the strip reaches.
    private static ReelOptions Fronted(ReelOptions reel, ReelKind kind, Random r) => reel with
    {
        RimMm = r.NextDouble() < 0.45 ? Between(r, 0.3, 3) : reel.RimMm,
        KnobMm = r.NextDouble() < 0.5 ? 0 : reel.KnobMm,
        StemMm = kind == ReelKind.Casting ? Between(r, 14, 46) : Between(r, 48, 88),
        StemWideMm = Between(r, 5, 14),
        StemBackMm = Between(r, 24, 78),
        Solid = true,
    };

    private static FrontOptions Front(Random r, int guides)
    {
        FrontKind kind = (FrontKind)r.Next(0, Enum.GetValues<FrontKind>().Length);
        double most = kind switch { FrontKind.Tape => 120, FrontKind.Post => 90, _ => 200 };
        return new FrontOptions
        {
            Kind = kind,
            At = r.NextDouble(),
            OverGuide = r.NextDouble() < 0.4 ? r.Next(1, guides + 2) : null,
            WideMm = 8 * Math.Pow(most / 8, r.NextDouble()),
            BeforeMm = kind is FrontKind.Hand or FrontKind.Tape ? Between(r, 12, 30) : Between(r, 15, 150),
            TurnDeg = Between(r, -1, 1) * (r.NextDouble() < 0.7 ? 25 : 60),
            Colour = r.NextDouble() < 0.3 ? new Vector3((float)Between(r, 0.02, 0.8)) : Collage.Colour(r),
        };
    }

    private static BackdropOptions Behind(BackdropOptions b, Random r, double difficulty)
    {
        bool dots = r.NextDouble() < 0.12 * (0.3 + difficulty);
        bool along = r.NextDouble() < 0.25 * difficulty;
        return b with
        {
            Pattern = dots ? Pattern.Dots : along && r.NextDouble() < 0.6 ? (Pattern)r.Next((int)Pattern.Blocks, (int)Pattern.Planks + 1) : b.Pattern,
            DotPitchMm = Between(r, 12, 40),
            DotMm = Between(r, 2, 9),
            DotsStaggered = r.NextDouble() < 0.35,
            DotRim = Between(r, 0, 1),
            Perforated = r.NextDouble() < 0.15 * difficulty ? r.Next(1, 3) : 0,
            AlongBlankAt = along ? r.NextDouble() : null,
            TurnDeg = along ? Between(r, -8, 8) : b.TurnDeg,
            BattensAlong = r.NextDouble() < 0.25 * difficulty ? r.Next(1, 4) : 0,
            EndFrames = r.NextDouble() < 0.25 * difficulty ? r.Next(1, 3) : 0,
            SecondRodDeg = b.SecondRodDeg ?? (r.NextDouble() < 0.08 * difficulty ? Between(r, -12, 12) : null),
        };
    }

    private static double Between(Random r, double a, double b) => a + ((b - a) * r.NextDouble());
}
