using DeflectScan.Geometry;
using DeflectScan.Reporting.Json;
using DeflectScan.Tracing.Rings;
using DeflectScan.Web.Correcting;
using DeflectScan.Web.Words;

namespace DeflectScan.Web.Measuring;

/// <summary>What a person set on a photo, proposed for the next one of the same stand: nothing is placed twice, and nothing is taken over unasked.</summary>
/// <param name="State">The marks of the next photo if the proposal is taken.</param>
/// <param name="Says">What it would do, one sentence.</param>
/// <param name="PlacesPx">Where, on the next photo.</param>
internal sealed record CarriedMarks(MarksState State, string Says, IReadOnlyList<Vec2> PlacesPx)
{
    /// <param name="read">The photo before, as it was read without any mark.</param>
    /// <param name="settled">The photo before, as a person left it.</param>
    /// <param name="with">What it was measured with.</param>
    /// <param name="next">The next photo as shown; refused ones take marks of tip, butt and blank alone.</param>
    /// <param name="now">What the next photo was measured with.</param>
    /// <param name="open">Stations of the next photo that are still doubtful.</param>
    /// <returns>Null where there is nothing to carry over.</returns>
    public static CarriedMarks? Of(Measurement read, Measurement settled, MarksState with, Measurement next, MarksState now, IReadOnlyList<double> open)
    {
        if (with.Marks.IsEmpty || !now.Marks.IsEmpty)
            return null;
        Marks ends = now.Marks with { TipPx = with.Marks.TipPx, ButtPx = with.Marks.ButtPx, BlankPx = with.Marks.BlankPx };
        Vec2[] placed = [.. new[] { with.Marks.TipPx, with.Marks.ButtPx }.OfType<Vec2>(), .. with.Marks.BlankPx];
        if (next.Guides.Count == 0)
            return placed.Length == 0 ? null : Made(new MarksState(ends, [], [], ""), placed.Length, 0, placed);
        double reach = SameRing.WithinMm / (next.Calibration?.MmPerPx ?? 1);
        List<Vec2> rings = [.. next.Guides.Select(g => g.RingPx)];
        List<Vec2> own = [];
        List<Vec2> places = [.. placed];
        double[] answered = [.. open.Where(s => IsAnswered(s))];
        Vec2[] gone = [.. read.Guides.Where(g => !g.IsTip && !settled.Guides.Any(k => Near(k.RingPx, g.RingPx))).Select(g => g.RingPx)];
        int off = 0;
        foreach (Vec2 none in gone)
        {
            off += rings.RemoveAll(r => Near(r, none) && r != next.Guides[^1].RingPx);
            if (next.Guides.Any(g => Near(g.RingPx, none)))
                places.Add(none);
        }

        // A guide that was slid since stands elsewhere: where the rings are as many already, none is missing.
        foreach (Vec2 one in with.PlacedPx.Where(p => !rings.Exists(r => Near(r, p))).Take(Math.Max(0, settled.Guides.Count - rings.Count)))
        {
            rings.Add(one);
            own.Add(one);
            places.Add(one);
        }

        own.AddRange(answered.SelectMany(s => next.Guides.Where(g => Math.Abs(g.StationMm - s) <= SameRing.WithinMm && rings.Contains(g.RingPx)).Select(g => g.RingPx)));
        int count = placed.Length + own.Count + off;
        if (count == 0 && answered.Length == 0)
            return null;
        MarksState state = new(ends with { RingsPx = rings, IsComplete = true }, [.. own.Distinct()], [.. open.Except(answered)], "");
        return Made(state, placed.Length + own.Distinct().Count(), Math.Max(off, answered.Length - own.Count), [.. places.Concat(own).Distinct()]);

        bool Near(Vec2 a, Vec2 b) => a.DistanceTo(b) <= reach;

        bool IsAnswered(double station) =>
            FindingPlaces.Doubts(read).Any(s => Math.Abs(s - station) <= SameRing.WithinMm) && !with.OpenMm.Any(s => Math.Abs(s - station) <= SameRing.WithinMm);
    }

    /// <summary>From the photo before, its reading taken from the disk; null where nothing was set on it.</summary>
    public static CarriedMarks? From(Bench bench, BenchPhoto before, BenchPhoto next)
    {
        MarksState with;
        Measurement settled;
        lock (before.Gate)
        {
            if (before.Measured is not { } m || before.MeasuredWith.Marks.IsEmpty)
                return null;
            (settled, with) = (m, before.MeasuredWith);
        }

        Measurement read = bench.Folder.Result(before.Stored.Id, Bench.DocumentName(BenchPhoto.KeyOf(Marks.None))) is { } document
            ? MeasurementJson.Read(System.Text.Encoding.UTF8.GetString(document)).OrDamaged()
            : settled;
        lock (next.Gate)
            return next.Measured is { } shown ? Of(read, settled, with, shown, next.MeasuredWith, Bench.Open(next)) : null;
    }

    private static CarriedMarks Made(MarksState state, int set, int none, IReadOnlyList<Vec2> places)
    {
        string first = set switch { 0 => "", 1 => "one place was set", _ => $"{set} places were set" };
        string second = none switch { 0 => "", 1 => "one was said to be no guide", _ => $"{none} were said to be no guides" };
        return new CarriedMarks(state with { Says = "Taken over from the photo before" }, $"On the photo before {string.Join(" and ", new[] { first, second }.Where(t => t.Length > 0))}.", places);
    }
}
