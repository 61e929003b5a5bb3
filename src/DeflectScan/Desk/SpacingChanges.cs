using DeflectScan.Layout.Suggesting;

namespace DeflectScan.Desk;

/// <summary>A best spacing as changes of the measured layout, so that it can be judged and changed further like any other.</summary>
public static class SpacingChanges
{
    /// <summary>
    /// What to move, add and take off. Where fewer guides are wanted than there are, those stay on that have least to travel in total. A guide that stays
    /// keeps its own ring, so that with fewer guides heights differ a little from the report's, which takes them by station.
    /// </summary>
    /// <param name="rod">The rod as measured.</param>
    /// <param name="report">A report on it that has a layout.</param>
    /// <exception cref="ArgumentException">The report has none.</exception>
    public static IReadOnlyList<GuideChange> Of(MeasuredLayout rod, SpacingReport report)
    {
        JudgedLayout best = report.Layout ?? throw new ArgumentException("The report has only a curve.", nameof(report));
        JudgedGuide[] placed = [.. best.Guides.Skip(report.Held).SkipLast(1)];
        int free = rod.Rings.Count - 1 - report.Held;
        double[] stands = [.. rod.Rings.Skip(report.Held).Take(free).Select(r => r.StationMm)];
        int?[] goes = placed.Length < free
            ? Arrangement.Owners([.. placed.Select(g => g.StationMm)], stands)
            : [.. Enumerable.Range(0, free).Select(i => Array.FindIndex(placed, g => g.MeasuredAs == report.Held + i + 1) is var at and >= 0 ? at : (int?)null)];
        List<GuideChange> changes = [];
        for (int i = 0; i < free; i++)
        {
            int guide = report.Held + i + 1;
            if (goes[i] is not { } at)
                changes.Add(new TakeOff(guide));
            else if (placed[at].StationMm != stands[i])
                changes.Add(new MoveTo(guide, placed[at].StationMm));
        }

        changes.AddRange(placed.Where((_, i) => !goes.Contains(i)).Select(g => new AddAt(g.StationMm)));
        return changes;
    }
}
