using DeflectScan.Geometry;
using DeflectScan.Scenes;

namespace DeflectScan.Accuracy.Compare;

/// <summary>Which measured guide is which true one.</summary>
/// <param name="MeasuredOf">True guide's index to the measured guide.</param>
/// <param name="Missed">True guides (and tip-top) without a measured one.</param>
/// <param name="False">Measured guides that are none.</param>
public sealed record GuideMatch(IReadOnlyDictionary<int, GuideReport> MeasuredOf, IReadOnlyList<int> Missed, IReadOnlyList<int> False)
{
    /// <summary>A measured guide farther than this from every true contact is none.</summary>
    private const double ReachMm = 15;

    public static GuideMatch Of(IReadOnlyList<GuideReport> measured, Truth truth)
    {
        double reachPx = ReachMm / truth.Camera.MmPerPxCentre;
        var pairs = from t in truth.Guides
                    from m in measured
                    let apart = m.RingPx.DistanceTo(new Vec2(t.ContactPx[0], t.ContactPx[1]))
                    where apart <= reachPx && m.IsTip == (t.Kind == "tip")
                    orderby apart
                    select (True: t.Index, Measured: m);
        Dictionary<int, GuideReport> found = [];
        HashSet<int> taken = [];
        foreach ((int index, GuideReport guide) in pairs)
        {
            if (!found.ContainsKey(index) && taken.Add(guide.Index))
                found[index] = guide;
        }

        return new GuideMatch(
            found,
            [.. truth.Guides.Select(t => t.Index).Where(i => !found.ContainsKey(i))],
            [.. measured.Select(m => m.Index).Where(i => !taken.Contains(i))]);
    }

    /// <summary>The true number of a measured guide; null where it is none.</summary>
    public int? TrueOf(int measuredIndex)
    {
        foreach ((int index, GuideReport guide) in MeasuredOf)
        {
            if (guide.Index == measuredIndex)
                return index;
        }

        return null;
    }
}
