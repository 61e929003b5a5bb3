using DeflectScan.Geometry;

namespace DeflectScan.Scenes.Rendering.World;

/// <summary>The line's whole path, with the points where it lies on the blank.</summary>
public static class LinePath
{
    /// <summary>From ring i - 1 to ring i (0: from the reel to the first ring), both ends included.</summary>
    public static IReadOnlyList<Vec2> Piece(RodBuild rod, int i) => i == 0
        ? [rod.Reel, rod.Contacts[0]]
        : TautLine.OverBlank(rod.Blank, rod.Gates[i - 1], rod.Contacts[i - 1], rod.Gates[i], rod.Contacts[i]);

    public static IReadOnlyList<(string Kind, Vec2 Mm)> Vertices(RodBuild rod)
    {
        List<(string Kind, Vec2 Mm)> path = [("reel", rod.Reel)];
        for (int i = 0; i < rod.Gates.Count; i++)
        {
            IReadOnlyList<Vec2> piece = Piece(rod, i);
            path.AddRange(piece.Skip(1).SkipLast(1).Select(p => ("blank", p)));
            path.Add((i == rod.Gates.Count - 1 ? "tip" : "guide", piece[^1]));
        }

        return path;
    }
}
