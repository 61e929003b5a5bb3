namespace DeflectScan.Records.Comparing;

/// <summary>A photo of a series, oldest first.</summary>
/// <param name="Id">As the caller calls it.</param>
/// <param name="Measurement">What was measured.</param>
/// <param name="Step">What changed since the photo before; null for the first.</param>
public sealed record SeriesPhoto(string Id, Measurement Measurement, Comparison? Step);

/// <summary>Photos of one rod, one after another, camera and clamp where they were.</summary>
public static class PhotoSeries
{
    /// <summary>
    /// Splits photos into series: one goes on where a photo was taken from another stand than the one before it. A photo without figures belongs to none.
    /// </summary>
    /// <param name="photos">In the order in which they were taken.</param>
    /// <param name="compare">As <see cref="Step"/>, for a caller that keeps what it compared; null: that itself.</param>
    public static IReadOnlyList<IReadOnlyList<SeriesPhoto>> Of(
        IEnumerable<(string Id, Measurement Measurement)> photos, Func<(string Id, Measurement M), (string Id, Measurement M), Comparison?>? compare = null)
    {
        List<List<SeriesPhoto>> all = [];
        foreach ((string id, Measurement m) in photos.Where(p => p.Measurement is { Blank.Axis.Count: >= 3, Intervals.Count: > 0 }))
        {
            SeriesPhoto? last = all.Count > 0 ? all[^1][^1] : null;
            Comparison? step = last is null ? null : compare is null ? Step(last.Measurement, m) : compare((last.Id, last.Measurement), (id, m));
            if (step is null)
                all.Add([new SeriesPhoto(id, m, null)]);
            else
                all[^1].Add(new SeriesPhoto(id, m, step));
        }

        return all;
    }

    /// <summary>What changed between two photos of one stand; null, and at little cost, where they are of two.</summary>
    public static Comparison? Step(Measurement before, Measurement after) => SharedStand.Of(before, after) is null ? null : Comparison.Of(before, after);
}
