using DeflectScan.Geometry;
using DeflectScan.Tracing;

namespace DeflectScan.Scenes.Rendering.World;

/// <summary>The whole rod as it stands: blank, rings, line, handle, cord; rod-plane mm with the butt end at the origin.</summary>
public sealed class RodBuild
{
    private RodBuild(SceneOptions options, BentBlank blank, Vec2 reel, IReadOnlyList<RingGate> gates, double[] places)
    {
        Options = options;
        Blank = blank;
        Reel = reel;
        Gates = gates;
        Contacts = [.. gates.Select((g, i) => g.At(places[i]))];
        Stations = [.. gates.Select((g, i) => g.Stance is null ? g.StationMm : blank.NearestStation(Contacts[i], Math.Max(0, g.StationMm - 30), Math.Min(blank.LengthMm, g.StationMm + 30)))];
        Pieces = options.Build is { } build ? BlankPieces.Of(options, build, blank, gates) : [];
        Rims = [.. places.Select(t => t > 0.999 ? "far" : t < -0.999 ? "near" : "free")];
    }

    public const double ClampFromMm = 57;
    public const double ClampToMm = 133;

    /// <summary>Height of the bench, below the butt.</summary>
    public const double BenchY = -165;

    public SceneOptions Options { get; }

    /// <summary>Station of the reel's front.</summary>
    public double ReelFrontMm => Options.VisibleFromMm - (Options.Build?.ReelBackMm ?? 104);

    public BentBlank Blank { get; }

    /// <summary>Where the line comes off the reel.</summary>
    public Vec2 Reel { get; }

    /// <summary>From the reel to the tip-top, the tip-top last.</summary>
    public IReadOnlyList<RingGate> Gates { get; }

    /// <summary>The line's centre in each ring.</summary>
    public IReadOnlyList<Vec2> Contacts { get; }

    /// <summary>Stations of the contacts: each one's nearest place on the axis.</summary>
    public IReadOnlyList<double> Stations { get; }

    /// <summary>Holders, spare pieces and decorations on the blank (built-up rods only).</summary>
    public IReadOnlyList<BlankPiece> Pieces { get; }

    public IReadOnlyList<string> Rims { get; }

    public Vec2 Tip => Blank.Point(Blank.LengthMm);

    /// <summary>Where the cord is tied to the bench.</summary>
    public Vec2 Anchor
    {
        get
        {
            Vec2 down = new(Math.Cos(Blank.ForceRadians), Math.Sin(Blank.ForceRadians));
            return Tip + (down * ((BenchY + 12 - Tip.Y) / down.Y));
        }
    }

    public Vec2 HangsTo => Contacts[^1] - new Vec2(0, Options.Build is { } b ? Math.Min(b.HangMm, Contacts[^1].Y - BenchY - 70) : 90 + (Options.Seed % 4 * 9));

    public static RodBuild Of(SceneOptions o)
    {
        Taper taper = new(o.BlankLengthMm, o.ButtMm, o.TipMm, o.TaperFullness, o.StiffnessPower);
        BentBlank blank = Bend(taper, o);
        if (o.PointsLeft)
            blank = blank.Mirror();
        bool outside = o.Side == BendSide.Outside;
        double reelFront = o.VisibleFromMm - (o.Build?.ReelBackMm ?? 104);
        Vec2 reel = blank.Point(reelFront) + (Away(blank, reelFront, outside) * ReelHeightMm(o, outside, blank.Taper.RadiusMm(reelFront)));
        IReadOnlyList<GuidePlan> plans = o.Build is { } build ? WideLayout.Of(o, build, taper) : GuideLayout.Of(o, taper);
        RingGate[] gates = [.. plans.Select(g =>
            new RingGate(g.StationMm, blank.Point(g.StationMm), Away(blank, g.StationMm, outside), g.HeightMm, g.OuterMm, g.InnerMm, o.LineMm / 2)
            {
                Stance = o.Build is null ? null : new GuideStance(blank, g, Away(blank, g.StationMm, outside), o.LineMm / 2),
            })];
        return new RodBuild(o, blank, reel, gates, TautLine.Places(reel, gates));
    }

    private static double ReelHeightMm(SceneOptions o, bool outside, double radius) => o.Build switch
    {
        null => outside ? 31 : 62,
        { Reel: ReelKind.None } b => Math.Max(b.GripMm, radius) + 4,
        { } b => (outside ? 31 : 62) * b.ReelScale,
    };

    // A deep bend with a low butt would put the tip into the bench: raise the butt until it clears at every load of the set-up.
    private static BentBlank Bend(Taper taper, SceneOptions o)
    {
        double deepest = Math.Max(o.TipTurnDeg, o.SetUpTurnsDeg.DefaultIfEmpty().Max());
        for (double elevation = o.ButtElevationDeg; ; elevation += 3)
        {
            BentBlank blank = At(elevation, deepest);
            if (blank.Point(blank.LengthMm).Y > BenchY + 260 || elevation > 85)
                return deepest == o.TipTurnDeg ? blank : At(elevation, o.TipTurnDeg);
        }

        BentBlank At(double elevation, double turn) =>
            turn == 0 ? Straight(taper, elevation, o.CordDeg) : Elastica.Solve(taper, ClampToMm, elevation, turn, o.CordDeg);
    }

    private static BentBlank Straight(Taper taper, double elevationDeg, double cordDeg)
    {
        double angle = elevationDeg * Math.PI / 180;
        Vec2 along = new(Math.Cos(angle), Math.Sin(angle));
        int steps = (int)(taper.LengthMm - ClampToMm);
        return new BentBlank(
            taper, ClampToMm, [.. Enumerable.Range(0, steps + 1).Select(i => (ClampToMm + ((taper.LengthMm - ClampToMm) * i / steps))).Select(s => (s, along * s, angle))],
            0, cordDeg * Math.PI / 180, mirrored: false);
    }

    private static Vec2 Away(BentBlank blank, double s, bool outside) => blank.Outward(s) * (outside ? 1 : -1);
}
