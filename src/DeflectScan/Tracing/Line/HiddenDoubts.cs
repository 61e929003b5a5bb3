using DeflectScan.Findings;
using DeflectScan.Tracing.Rings;

namespace DeflectScan.Tracing.Line;

/// <summary>Whether a guide may stand behind what hides the blank: only a person who was there can say, by marking all rings.</summary>
internal static class HiddenDoubts
{
    /// <param name="axis">The blank.</param>
    /// <param name="rings">The rings in use; where a person marked all of them, none is behind anything.</param>
    public static IEnumerable<Finding> Of(BlankAxis axis, RingChoice rings)
    {
        if (rings.IsComplete || axis.Hidden.Count == 0)
            yield break;
        string where = string.Join(", and ", axis.Hidden.Select(h => $"over {h.ToMm - h.FromMm:0} mm, about {(h.FromMm + h.ToMm) / 2:0} mm from the tip"));
        yield return Finding.Review(
            FindingCode.GuidesUncertain,
            $"Something hides the blank {where}: see that no guide stands there, or take it away and photograph again.") with { Places = [.. axis.Hidden.Select(h => new FindingPlace(h.FromMm, h.ToMm))] };
    }
}
