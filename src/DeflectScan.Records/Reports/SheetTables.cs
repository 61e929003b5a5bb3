using DeflectScan.Geometry;
using DeflectScan.Records.Model;
using DeflectScan.Reporting.Cards;

namespace DeflectScan.Records.Reports;

/// <summary>The tables of a build sheet.</summary>
internal static class SheetTables
{
    private const string Unknown = "–";

    public static IEnumerable<SheetTable> Of(BuildSheet sheet)
    {
        Build build = sheet.Build;
        foreach (ConsideredLayout chosen in build.Layouts.Where(l => l.Id == build.ChosenLayoutId))
            yield return Of(build, chosen);
        if (sheet.Measurement is { } m)
        {
            if (m.Guides.Count > 0)
                yield return Guides(m);
            if (m.Intervals.Count > 0)
                yield return Pairs(m);
            if (m.Suggestion is { Why.Length: > 0 } s && LayoutStations.OfSuggestion(m) is { Count: > 0 } suggested)
                yield return Stations("What the measurement suggests", s.Why, [.. suggested.Select(g => (g, (string?)null))]);
        }

        if (build.Facts.Guides.Count > 0)
            yield return Stations("Guides as built, from the reel", null, [.. build.Facts.Guides.Select(g => (new LayoutStation(g.FromTipMm, g.FromReelMm, g.RingSizeMm, null), g.Frame))]);
        foreach (ConsideredLayout layout in build.Layouts.Where(l => l.Id != build.ChosenLayoutId))
            yield return Of(build, layout);

        if (build.Measurements.Count > 1)
            yield return Tests(build);
    }

    private static SheetTable Of(Build build, ConsideredLayout layout) => Stations(
        SheetText.Of($"Layout \"{layout.Name}\"{(layout.Id == build.ChosenLayoutId ? ", chosen" : ", considered")}").ReplaceLineEndings(" "), SheetText.Of(layout.Basis),
        [.. layout.Stations.Select(s => (s, (string?)null))]);

    private static SheetTable Guides(Measurement m) => Known(
        "Guides as measured, from the reel", null, ["guide", "from tip, mm", "±", "inches", "from reel, mm", "inches", "height, mm", "line angle"],
        [.. m.Guides.Select(g => new[]
        {
            Name(m, g.Index), Mm(g.StationMm), Uncertainty(g.Station.UncertaintyMm), UnitsText.Sixteenths(g.StationMm), Mm(g.FromReelMm), Inches(g.FromReelMm), Mm(g.HeightMm),
            g.LineAngleDeg is { } angle ? $"{angle:0.0}°" : Unknown,
        })]);

    private static SheetTable Pairs(Measurement m) => new(
        "Pairs of guides", null, ["pair", "gap, mm", "±", "bow, mm", "±", "clearance, mm", "note"],
        [.. m.Intervals.Select(i => new[]
        {
            $"{Name(m, i.From)} to {Name(m, i.To)}", Mm(i.GapMm), Uncertainty(i.Gap.UncertaintyMm), Mm(i.BowMm), Uncertainty(i.Bow.UncertaintyMm), Mm(i.ClearanceMm), Mark(m, i),
        })]);

    private static SheetTable Stations(string title, string? note, IReadOnlyList<(LayoutStation Station, string? Frame)> stations) => Known(
        title, note, ["guide", "frame", "ring, mm", "from tip, mm", "inches", "from reel, mm", "inches"],
        [.. stations.Select((s, i) => new[]
        {
            s.Station.FromTipMm == 0 ? "tip-top" : $"{i + 1}", string.IsNullOrWhiteSpace(s.Frame) ? Unknown : SheetText.Of(s.Frame), s.Station.RingSizeMm is { } ring ? $"{ring:0.#}" : Unknown,
            Mm(s.Station.FromTipMm), Inches(s.Station.FromTipMm), Mm(s.Station.FromReelMm), Inches(s.Station.FromReelMm),
        })]);

    /// <summary>A table without the columns of which nothing is known.</summary>
    private static SheetTable Known(string title, string? note, string[] heads, string[][] rows)
    {
        int[] columns = [.. Enumerable.Range(0, heads.Length).Where(c => rows.Any(r => r[c] != Unknown))];
        return new SheetTable(title, note, [.. columns.Select(c => heads[c])], [.. rows.Select(r => columns.Select(c => r[c]).ToArray())]);
    }

    private static SheetTable Tests(Build build) => new(
        "All tests", null, ["made", "label", "status", "guides", "tip turn", "follows worst", "by, mm", "largest gap, mm"],
        [.. build.Measurements.Select(t => new[]
        {
            $"{t.MadeAt:yyyy-MM-dd}", SheetText.Of(t.Label ?? Unknown), t.IsSetAside ? "set aside" : t.Status == MeasurementStatus.Ok ? "ok" : "needs review", $"{t.GuideCount}", $"{t.TipTurnDeg:0.0}°",
            t.Worst is { } w ? $"{w.Name}, {w.By}" : Unknown, Figure(t.Worst?.Mm, t.Worst?.UncertaintyMm), Figure(t.LargestGapMm, t.LargestGapUncertaintyMm),
        })]);

    private static string Mm(double? mm) => mm is { } value ? UnitsInSentences.Bare(value, LengthUnit.Millimetres) : Unknown;

    private static string Inches(double? mm) => mm is { } value ? UnitsText.Sixteenths(value) : Unknown;

    private static string Uncertainty(double mm) => $"{UnitsText.RoundedUp(mm, 0.1):0.0}";

    private static string Figure(double? mm, double? uncertaintyMm) => mm is { } value ? $"{Mm(value)} ± {Uncertainty(uncertaintyMm ?? 0)}" : Unknown;

    private static string Mark(Measurement m, IntervalReport i) => string.Join(", ", new[]
    {
        i == m.SureWorst() ? "follows worst" : null, m.InDoubt(i) ? "in doubt" : null,
        m.Largest is { } g && (g.GapFrom, g.GapTo) == (i.From, i.To) ? "largest gap" : null,
        m.Largest is { } b && (b.BowFrom, b.BowTo) == (i.From, i.To) ? "largest bow" : null,
        i.TouchesBlank ? "touches blank" : null,
    }.OfType<string>());

    private static string Name(Measurement m, int index) => m.Guides.Any(g => g.Index == index && g.IsTip) ? "tip-top" : $"{index}";
}
