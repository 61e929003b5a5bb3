using DeflectScan.Geometry;
using DeflectScan.Scenes.Rendering.Paint;

namespace DeflectScan.Scenes.Rendering.World;

/// <summary>Writes down a scene's exact truth in the same form as the photographs' truth files.</summary>
public static class TruthOf
{
    public static Truth Scene(SceneOptions o, RodBuild rod, IReadOnlyList<CardStand> cards, SceneCamera camera, Foreground front)
    {
        bool turned = o.Orientation is 6 or 8;
        IReadOnlyList<TruthInterval> intervals = IntervalTruth.Of(rod);
        Truth truth = new(
            o.Name,
            o.Defect == Defect.None ? "ok" : "refuse_or_review",
            new TruthImage([o.WidthPx, o.HeightPx], turned ? [o.HeightPx, o.WidthPx] : [o.WidthPx, o.HeightPx], o.Orientation, o.WritesFocal ? Math.Round(o.Focal35Mm) : null),
            Camera(camera),
            [.. cards.Select(c => Card(c, camera))],
            Blank(rod, camera),
            Guides(rod, camera, front),
            Line(rod, camera),
            o.Side == Tracing.BendSide.Inside ? "inside" : "outside",
            intervals,
            new TruthLargest(Largest(intervals, i => i.GapMm), Largest(intervals, i => i.BowMm)))
        {
            ExpectedCodes = Codes(o.Defect),
            Pieces = GuideTruth.Pieces(rod, camera),
            Cord = GuideTruth.Cord(rod, camera),
            Reel = o.Build?.Reel.ToString().ToLowerInvariant(),
            Hidden = o.InFront.Count == 0 ? null : HiddenTruth.Stretches(rod, camera, front),
        };
        if (!truth.ExpectsOk)
            return truth;
        if (!o.AtRest && TurnDeg(truth.Blank) < LeastTurnDeg)
            return truth with { Expected = "refuse_or_review", ExpectedCodes = ["bend-too-small"] };
        return HiddenTruth.StillMeasures(truth) ? truth : truth with { Expected = "refuse_or_review", ExpectedCodes = Hiding };
    }

    /// <summary>A rod whose bare blank turns by less is hardly bent, and no static test: a review says so (AxisOptions.SmallTurnDeg).</summary>
    private const double LeastTurnDeg = 20;

    private static double TurnDeg(TruthBlank blank) =>
        Math.Abs(blank.Samples[^1].AngleDeg - blank.Samples.First(s => s.S >= blank.VisibleFromSMm).AngleDeg);

    // What may rightly be said of a rod that something hides.
    private static readonly string[] Hiding = ["guides-uncertain", "line-not-seen", "low-contrast", "rod-not-found", "tip-outside-frame", "butt-outside-frame"];

    /// <summary>The codes any one of which is right for a defect.</summary>
    public static IReadOnlyList<string>? Codes(Defect defect) => defect switch
    {
        Defect.None => null,
        Defect.NoCard => ["card-missing"],
        Defect.CardOffPlane => ["card-off-plane", "cards-disagree"],
        Defect.TipCropped => ["tip-outside-frame"],
        Defect.ButtCropped => ["butt-outside-frame"],
        Defect.Blurred => ["blurred", "card-missing"],
        Defect.NoRod => ["rod-not-found"],
        Defect.LargeTilt => ["tilt-large"],
        Defect.CardTooSmall => ["card-too-small", "low-resolution", "card-missing"],
        _ => throw new ArgumentOutOfRangeException(nameof(defect)),
    };

    private static TruthPair Largest(IReadOnlyList<TruthInterval> intervals, Func<TruthInterval, double> figure)
    {
        TruthInterval best = intervals.Skip(1).MaxBy(figure)!;
        return new TruthPair(best.From.GetInt32(), best.To.GetInt32());
    }

    private static TruthCamera Camera(SceneCamera c)
    {
        double f = c.Lens.FocalPx;
        Vec3 p = c.Position;
        double distance = -p.Z / c.Forward.Z;
        return new TruthCamera(
            [[f, 0, c.Lens.PrincipalPx.X], [0, f, c.Lens.PrincipalPx.Y], [0, 0, 1]],
            [c.Lens.K1, c.Lens.K2, c.Lens.P1, c.Lens.P2, c.Lens.K3],
            [Row(c.Right), Row(c.Down), Row(c.Forward)],
            [-c.Right.Dot(p), -c.Down.Dot(p), -c.Forward.Dot(p)],
            Row(p),
            c.YawDeg,
            c.PitchDeg,
            c.RollDeg,
            distance / f);
    }

    private static TruthCard Card(CardStand card, SceneCamera camera)
    {
        Vec3[] outer = [.. card.OuterCorners().Select(p => Vec3.InPlane(p, card.ZMm))];
        Vec3[] inner = [.. card.InnerCorners().Select(p => Vec3.InPlane(p, card.ZMm))];
        return new TruthCard(
            $"{card.Letter}", card.ZMm, [.. outer.Select(Row)], [.. outer.Select(p => Pair(camera.Project(p)))], [.. inner.Select(Row)], [.. inner.Select(p => Pair(camera.Project(p)))]);
    }

    private static TruthBlank Blank(RodBuild rod, SceneCamera camera)
    {
        BentBlank b = rod.Blank;
        List<TruthSample> samples = [];
        for (double s = 0; s < b.LengthMm; s += 5)
            samples.Add(Sample(s));
        samples.Add(Sample(b.LengthMm));
        return new TruthBlank(
            b.LengthMm,
            rod.ReelFrontMm,
            rod.Options.VisibleFromMm,
            [RodBuild.ClampFromMm, RodBuild.ClampToMm],
            b.TipTurnDeg,
            b.ForceRelative,
            b.ForceRadians * 180 / Math.PI,
            Pair(rod.Anchor),
            Pair(camera.Project(rod.Anchor)),
            samples);

        TruthSample Sample(double s)
        {
            Vec2 p = b.Point(s);
            Vec2 px = camera.Project(p);
            return new TruthSample(s, p.X, p.Y, b.Angle(s) * 180 / Math.PI, b.Taper.DiameterMm(s), px.X, px.Y);
        }
    }

    private static IReadOnlyList<TruthGuide> Guides(RodBuild rod, SceneCamera camera, Foreground front)
    {
        List<TruthGuide> guides = [];
        for (int i = 0; i < rod.Gates.Count; i++)
        {
            RingGate g = rod.Gates[i];
            Vec2 contact = rod.Contacts[i];
            Vec2 next = i + 1 < rod.Gates.Count ? LinePath.Piece(rod, i + 1)[1] : rod.HangsTo;
            Vec2 arriving = (contact - LinePath.Piece(rod, i)[^2]).Normalized();
            Vec2 leaving = (next - contact).Normalized();
            double turn = Math.Atan2(arriving.Cross(leaving), arriving.Dot(leaving)) * 180 / Math.PI;
            guides.Add(new TruthGuide(
                i + 1,
                i == rod.Gates.Count - 1 ? "tip" : "guide",
                rod.Stations[i],
                rod.Stations[i] - rod.ReelFrontMm,
                rod.Blank.LengthMm - rod.Stations[i],
                g.OuterMm,
                g.InnerMm,
                Pair(g.Centre),
                Pair(g.Stance is { } s ? camera.Project(s.Centre) : camera.Project(g.Centre)),
                Pair(contact),
                Pair(camera.Project(contact)),
                rod.Rims[i],
                g.Stance is null ? contact.DistanceTo(g.Foot) : contact.DistanceTo(rod.Blank.Point(rod.Stations[i])),
                rod.Blank.Mirrored ? turn : -turn)
            {
                Stance = GuideTruth.Stance(rod, i),
                Hidden = front.Hides(camera.Project(contact)),
            });
        }

        return guides;
    }

    private static TruthLine Line(RodBuild rod, SceneCamera camera) => new(
        rod.Options.LineMm,
        Pair(rod.HangsTo),
        Pair(camera.Project(rod.HangsTo)),
        [.. LinePath.Vertices(rod).Select(v => camera.Project(v.Mm) is var px ? new TruthVertex(v.Kind, v.Mm.X, v.Mm.Y, px.X, px.Y) : null!)]);

    private static double[] Pair(Vec2 p) => [p.X, p.Y];

    private static double[] Row(Vec3 p) => [p.X, p.Y, p.Z];
}
