using DeflectScan.Geometry;
using DeflectScan.Measuring;
using DeflectScan.Measuring.Figures;
using DeflectScan.Numerics;
using MathNet.Numerics.Statistics;

namespace DeflectScan.Repeating;

/// <summary>
/// Puts measurements of one set-up together: guides matched by station, means over the photos that agree, the spread held against what each
/// photo states. What all photos share (cards, lens, where the line touches a ring) does not average out, so the mean's uncertainty stays
/// at least that of one photo.
/// </summary>
public static class RepeatRule
{
    /// <summary>Guides of two photos nearer than this are one, mm; guides stand farther apart than twice this (common practice, no source).</summary>
    private const double SameGuideMm = 15;

    /// <summary>A photo that departs from the others' medians by more than this many standard uncertainties (root mean square) is an outlier.</summary>
    private const double OutlierRms = 2;

    /// <summary>The same for one single figure.</summary>
    private const double OutlierOne = 4;

    /// <summary>A spread larger than the stated uncertainty by this calls for review.</summary>
    private const double LargeSpread = 1.5;

    /// <summary>The very same file given twice tells nothing new.</summary>
    private const string CopyOf = "it is a copy of";

    public static RepeatReport Combine(IReadOnlyList<(string File, Measurement Measurement)> photos)
    {
        string[] why = new string[photos.Count];
        Array.Fill(why, "");
        for (int i = 0; i < photos.Count; i++)
        {
            if (photos[i].Measurement.Status == MeasurementStatus.Refused)
                why[i] = "it was refused";
            else if (photos[i].Measurement.Photo?.Sha256 is { } hash && photos.Take(i).FirstOrDefault(p => p.Measurement.Photo?.Sha256 == hash) is { File: { } first })
                why[i] = $"{CopyOf} {first}, which counts once";
        }

        Measurement[] whole = [.. photos.Where((_, i) => why[i].Length == 0).Select(p => p.Measurement)];
        if (whole.Length == 0)
            return Report(photos, why, []);

        // The photo whose guides most of the others have, so that it does not matter which comes first.
        Measurement model = whole.MaxBy(m => whole.Count(other => SameGuides(other, m)))!;
        for (int i = 0; i < photos.Count; i++)
        {
            if (why[i].Length == 0 && !SameGuides(photos[i].Measurement, model))
                why[i] = Difference(photos[i].Measurement, model);
        }

        LeaveOutOutliers(photos, why);
        int[] used = [.. Enumerable.Range(0, photos.Count).Where(i => why[i].Length == 0)];
        RepeatedFigure[] figures = used.Length == 0 ? [] : Figures([.. used.Select(i => photos[i].Measurement)]);
        return Report(photos, why, figures) with { Typical = used.Length == 0 ? null : used.MinBy(i => DistanceSquared(photos[i].Measurement, figures)) };
    }

    /// <summary>From a photo's figures to the means, in stated uncertainties. Of two photos both are as near: the first is taken.</summary>
    private static double DistanceSquared(Measurement m, RepeatedFigure[] means) =>
        Row(m).Zip(means, (own, mean) => mean.StatedMm > 0 ? Math.Pow((own.Length.Mm - mean.ValueMm) / mean.StatedMm, 2) : 0).Sum();

    private static bool SameGuides(Measurement m, Measurement model) =>
        m.Guides.Count == model.Guides.Count && m.Guides.Zip(model.Guides).All(p => Math.Abs(p.First.StationMm - p.Second.StationMm) < SameGuideMm);

    private static string Difference(Measurement m, Measurement model)
    {
        if (m.Guides.Count != model.Guides.Count)
            return $"its guides are not those of the others ({m.Guides.Count - 1} and the tip-top, the others {model.Guides.Count - 1})";
        (GuideReport own, GuideReport theirs) = m.Guides.Zip(model.Guides).MaxBy(p => Math.Abs(p.First.StationMm - p.Second.StationMm));
        return $"its guide {own.Index} stands {Math.Abs(own.StationMm - theirs.StationMm):0} mm from where the others have it";
    }

    /// <summary>One by one, the worst first, as long as more than two remain: of two nobody knows which is wrong.</summary>
    private static void LeaveOutOutliers(IReadOnlyList<(string File, Measurement Measurement)> photos, string[] why)
    {
        while (true)
        {
            int[] used = [.. Enumerable.Range(0, photos.Count).Where(i => why[i].Length == 0)];
            if (used.Length < 3)
                return;
            (double Rms, double Worst, int Photo)[] departures = [.. used.Select(i => Departure(i, used)).OrderByDescending(d => Math.Max(d.Rms / OutlierRms, d.Worst / OutlierOne))];
            (double rms, double worst, int photo) = departures[0];
            if (rms <= OutlierRms && worst <= OutlierOne)
                return;
            why[photo] = $"its figures depart from the others' by {rms:0.0} standard uncertainties (root mean square), one by {worst:0.0}";
        }

        (double Rms, double Worst, int Photo) Departure(int photo, int[] used)
        {
            MeasuredLength[] own = [.. Row(photos[photo].Measurement).Select(f => f.Length)];
            double[][] others = [.. used.Where(i => i != photo).Select(i => Row(photos[i].Measurement).Select(f => f.Length.Mm).ToArray())];
            double[] z = [.. own.Select((f, k) => (f.Mm - others.Select(o => o[k]).Median()) / (f.UncertaintyMm / LayoutUncertainty.Coverage * Math.Sqrt(1 + (1.0 / others.Length))))];
            return (Math.Sqrt(z.Average(v => v * v)), z.Max(Math.Abs), photo);
        }
    }

    private static RepeatedFigure[] Figures(Measurement[] used)
    {
        (string Name, int From, int? To, MeasuredLength Length)[][] rows = [.. used.Select(m => Row(m).ToArray())];
        return [.. rows[0].Select((first, k) =>
        {
            double[] values = [.. rows.Select(r => r[k].Length.Mm)];
            double mean = values.Average();
            double stated = Math.Sqrt(rows.Average(r => r[k].Length.UncertaintyMm * r[k].Length.UncertaintyMm));
            double? spread = values.Length < 2 ? null : Math.Sqrt(values.Sum(v => (v - mean) * (v - mean)) / (values.Length - 1));
            double ofMean = spread is { } s ? StudentFactor.Of(values.Length - 1) * s / Math.Sqrt(values.Length) : 0;
            return new RepeatedFigure(first.Name, first.From, first.To, mean, Math.Max(stated, ofMean), spread, stated, values.Length);
        })];
    }

    private static RepeatReport Report(IReadOnlyList<(string File, Measurement Measurement)> photos, string[] why, RepeatedFigure[] figures)
    {
        int used = why.Count(w => w.Length == 0);
        string[] copies = [.. LeftOut(photos, why).Where(p => IsCopy(p.Why)).Select(p => $"{p.File} was left out: {p.Why}.")];
        List<string> notes = [.. LeftOut(photos, why).Where(p => !IsCopy(p.Why)).Select(p => $"{p.File} was left out: {p.Why}.")];
        notes.AddRange(photos.Where((p, i) => why[i].Length == 0 && p.Measurement.Status == MeasurementStatus.NeedsReview).Select(p => $"{p.File} needs a review of its own: measure it alone to see why."));
        double? ratio = null;
        if (used >= 2)
        {
            RepeatedFigure[] known = [.. figures.Where(f => f.StatedMm > 0)];
            ratio = Math.Sqrt(known.Sum(f => f.SpreadMm!.Value * f.SpreadMm.Value) / known.Sum(f => f.StatedMm * f.StatedMm / (LayoutUncertainty.Coverage * LayoutUncertainty.Coverage)));
            if (ratio > LargeSpread)
                notes.Add($"The photos differ {ratio:0.0} times as much as they state: let the rod come to rest, and see that nothing was moved between them.");
        }
        else
        {
            notes.Add("Fewer than two photos can be put together: take more of the same set-up.");
        }

        return new RepeatReport(
            [.. photos.Select((p, i) => new RepeatedPhoto(p.File, p.Measurement.Status, why[i].Length == 0, why[i]))],
            figures, ratio,
            used < 2 ? MeasurementStatus.Refused : notes.Count > 0 ? MeasurementStatus.NeedsReview : MeasurementStatus.Ok,
            [.. copies, .. notes]);
    }

    private static bool IsCopy(string why) => why.StartsWith(CopyOf, StringComparison.Ordinal);

    private static IEnumerable<(string File, string Why)> LeftOut(IReadOnlyList<(string File, Measurement Measurement)> photos, string[] why) =>
        photos.Select((p, i) => (p.File, Why: why[i])).Where(p => p.Why.Length > 0);

    private static IEnumerable<(string Name, int From, int? To, MeasuredLength Length)> Row(Measurement m) =>
    [
        .. m.Guides.Where(g => !g.IsTip).Select(g => ("station", g.Index, (int?)null, g.Station)),
        .. m.Guides.Select(g => ("height", g.Index, (int?)null, g.Height)),
        .. m.Intervals.Select(i => ("gap", i.From, (int?)i.To, i.Gap)),
        .. m.Intervals.Select(i => ("bow", i.From, (int?)i.To, i.Bow)),
    ];
}
