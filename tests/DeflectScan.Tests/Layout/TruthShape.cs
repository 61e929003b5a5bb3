using DeflectScan.Geometry;
using DeflectScan.Layout;
using DeflectScan.Scenes;

namespace DeflectScan.Tests.Layout;

/// <summary>A test photo's exact blank and rings, as the layout room takes them.</summary>
internal static class TruthShape
{
    /// <summary>All folders of testimages that hold a truth file.</summary>
    public static TheoryData<string> Names() =>
        [.. Directory.GetDirectories(Repository.TestImages)
            .Where(d => File.Exists(Path.Combine(d, "truth.json")))
            .Select(d => Path.GetFileName(d)!)
            .Order(StringComparer.Ordinal)];

    public static BlankShape Blank(Truth truth)
    {
        List<TruthSample> fromTip = [.. truth.Blank.Samples.Reverse()];
        return BlankShape.Through([.. fromTip.Select(s => new Vec2(s.X, s.Y))], [.. fromTip.Select(s => s.DiameterMm)]);
    }

    public static GuideSide Side(Truth truth) => truth.Side == "inside" ? GuideSide.Inside : GuideSide.Outside;

    public static IReadOnlyList<RingPoint> Rings(Truth truth, BlankShape blank) =>
        [.. truth.Guides.Select(g => RingPoint.Seen(blank, new Vec2(g.ContactMm[0], g.ContactMm[1])))];
}
