namespace DeflectScan.Teaching;

/// <summary>
/// Which students sent the same photo: the same file, or another copy of the same pixels (a messenger's or an editor's, which changes the file), told by rings
/// and blank that lie at the very same pixels to the last digit. Two photos of one stand never do.
/// </summary>
internal static class SamePhotos
{
    /// <summary>Groups of two rods or more, by index.</summary>
    public static IReadOnlyList<IReadOnlyList<int>> Of(IReadOnlyList<ClassRod> rods)
    {
        List<List<int>> groups = [];
        for (int i = 0; i < rods.Count; i++)
        {
            if (rods[i].Photo.Measurement is not { Photo: not null } m)
                continue;
            if (groups.Find(g => AreSame(rods[g[0]].Photo.Measurement!, m)) is { } group)
                group.Add(i);
            else
                groups.Add([i]);
        }

        return [.. groups.Where(g => g.Count > 1)];
    }

    public static bool AreSame(Measurement a, Measurement b) =>
        a.Photo!.Sha256 == b.Photo!.Sha256
        || ((a.Photo.WidthPx, a.Photo.HeightPx) == (b.Photo.WidthPx, b.Photo.HeightPx)
            && a.Blank is { } blankA && b.Blank is { } blankB && a.Guides.Count > 0
            && a.Guides.Select(g => g.RingPx).SequenceEqual(b.Guides.Select(g => g.RingPx))
            && blankA.Axis.Select(s => s.Px).SequenceEqual(blankB.Axis.Select(s => s.Px)));
}
