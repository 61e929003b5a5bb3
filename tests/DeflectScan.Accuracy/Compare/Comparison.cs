using DeflectScan.Findings;
using DeflectScan.Geometry;
using DeflectScan.Scenes;

namespace DeflectScan.Accuracy.Compare;

/// <summary>Compares a measurement with the truth: a pure function of both.</summary>
public static class Comparison
{
    private const double TieMm = 0.5;

    public static PhotoComparison Of(string name, Measurement measured, Truth truth)
    {
        GuideMatch guides = GuideMatch.Of(measured.Guides, truth);
        AxisComparison axis = AxisComparison.Of(measured.Blank, truth);
        string[] codes = [.. measured.Findings.Where(f => f.Severity != Severity.Note).Select(f => f.CodeText).Distinct(StringComparer.Ordinal)];
        IReadOnlyList<(TruthInterval Truth, IntervalReport Measured)> pairs = Pairs(measured, truth, guides);
        return new PhotoComparison(
            name,
            truth.ExpectsOk,
            measured.Status,
            codes,
            StatusRight(measured.Status, codes, truth),
            truth.Cards.Count,
            guides,
            axis.OffsetPx,
            axis.Span,
            axis.DiameterMm,
            [.. pairs.Select(p => new FigureError(Name(p.Truth), p.Truth.GapMm, p.Measured.GapMm, p.Measured.Gap.UncertaintyMm, FromTip(p.Truth, truth)))],
            [.. pairs.Select(p => new FigureError(Name(p.Truth), p.Truth.BowMm, p.Measured.BowMm, p.Measured.Bow.UncertaintyMm, FromTip(p.Truth, truth)))],
            [.. Stations(truth, guides)],
            [.. truth.Guides.Where(t => guides.MeasuredOf.ContainsKey(t.Index)).Select(t => guides.MeasuredOf[t.Index].RingPx.DistanceTo(new Vec2(t.ContactPx[0], t.ContactPx[1])))],
            measured.Largest is { } g ? IsLargest(guides, truth, i => i.GapMm, g.GapFrom, g.GapTo) : null,
            measured.Largest is { } b ? IsLargest(guides, truth, i => i.BowMm, b.BowFrom, b.BowTo) : null);
    }

    private static bool StatusRight(MeasurementStatus status, string[] codes, Truth truth) => truth.ExpectsOk
        ? status == MeasurementStatus.Ok
        : status != MeasurementStatus.Ok && BadPhotos.RightCodes(truth) is var right && (right.Count == 0 || codes.Any(c => right.Contains(c, StringComparer.Ordinal)));

    private static IEnumerable<TruthInterval> Judged(Truth truth) => truth.Intervals.Where(i => i.From.ValueKind == System.Text.Json.JsonValueKind.Number);

    private static (int From, int To) Ends(TruthInterval i) => (i.From.GetInt32(), i.To.GetInt32());

    private static string Name(TruthInterval i) => $"{Ends(i).From}-{Ends(i).To}";

    private static double FromTip(TruthInterval i, Truth truth) => truth.Guides.First(g => g.Index == Ends(i).From).FromTipMm;

    private static IReadOnlyList<(TruthInterval Truth, IntervalReport Measured)> Pairs(Measurement measured, Truth truth, GuideMatch guides)
    {
        List<(TruthInterval Truth, IntervalReport Measured)> pairs = [];
        foreach (TruthInterval t in Judged(truth))
        {
            (int from, int to) = Ends(t);
            if (guides.MeasuredOf.TryGetValue(from, out GuideReport? a)
                && guides.MeasuredOf.TryGetValue(to, out GuideReport? b)
                && measured.Intervals.FirstOrDefault(i => i.From == a.Index && i.To == b.Index) is { } found)
                pairs.Add((t, found));
        }

        return pairs;
    }

    private static IEnumerable<FigureError> Stations(Truth truth, GuideMatch guides) =>
        from t in truth.Guides
        where t.Kind != "tip" && guides.MeasuredOf.ContainsKey(t.Index)
        let m = guides.MeasuredOf[t.Index]
        select new FigureError($"{t.Index}", t.FromTipMm, m.StationMm, m.Station.UncertaintyMm, t.FromTipMm);

    private static bool IsLargest(GuideMatch guides, Truth truth, Func<TruthInterval, double> figure, int from, int to)
    {
        TruthInterval? named = Judged(truth).FirstOrDefault(i => Ends(i).From == guides.TrueOf(from) && Ends(i).To == guides.TrueOf(to));
        return named is not null && figure(named) >= Judged(truth).Max(figure) - TieMm;
    }
}
