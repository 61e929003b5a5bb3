using DeflectScan.Geometry;

namespace DeflectScan.Scenes.Rendering.World;

/// <summary>The truth of what is on a built-up rod beside rings and line: stances, holders, spare pieces, decorations, cord.</summary>
internal static class GuideTruth
{
    public static TruthStance? Stance(RodBuild rod, int index)
    {
        if (rod.Gates[index].Stance is not { } s)
            return null;
        GuidePlan p = s.Plan;
        string holder = index == rod.Gates.Count - 1 ? "tip" : rod.Options.Build!.Holder.ToString().ToLowerInvariant();
        return new TruthStance(holder, p.StationMm, p.HeightMm, p.LeanDeg, s.TwistRadians * 180 / Math.PI, p.AskewDeg, [.. p.Feet.Select(f => new[] { p.StationMm + f.From, p.StationMm + f.To })]);
    }

    public static IReadOnlyList<TruthPiece>? Pieces(RodBuild rod, SceneCamera camera) => rod.Options.Build is null
        ? null
        : [.. rod.Pieces.Select(p => new TruthPiece(p.Role, p.Kind, p.FromMm, p.ToMm, Px(rod, camera, p.FromMm), Px(rod, camera, p.ToMm), p.Guide))];

    public static TruthCord? Cord(RodBuild rod, SceneCamera camera)
    {
        if (rod.Options.Build is null || rod.Options.AtRest)
            return null;
        Vec2 from = camera.Project(rod.Tip);
        Vec2 to = camera.Project(rod.Anchor);
        return new TruthCord(rod.Options.CordMm, [rod.Tip.X, rod.Tip.Y], [rod.Anchor.X, rod.Anchor.Y], [from.X, from.Y], [to.X, to.Y]);
    }

    private static double[] Px(RodBuild rod, SceneCamera camera, double s)
    {
        Vec2 px = camera.Project(rod.Blank.Point(s));
        return [px.X, px.Y];
    }
}
