using DeflectScan.Geometry;
using DeflectScan.Records.Model;
using DeflectScan.Reporting.Sheets;
using DeflectScan.Tracing;

namespace DeflectScan.Records.Reports;

/// <summary>What stands on a build sheet, whatever it is printed as.</summary>
/// <param name="Build">The build.</param>
/// <param name="Latest">Its latest measurement; null where there is none.</param>
/// <param name="Measurement">That measurement's figures.</param>
/// <param name="Pictures">Drawn from its photo.</param>
public sealed record BuildSheet(Build Build, StoredMeasurement? Latest, Measurement? Measurement, SheetPictures? Pictures)
{
    public static BuildSheet Of(ArchiveReader reader, Build build) => build.Measurements.LastOrDefault() is { } latest
        ? new BuildSheet(build, latest, reader.Measurement(latest), SheetPictures.Draw(reader, latest))
        : new BuildSheet(build, null, null, null);

    public static IReadOnlyList<string> Cautions { get; } = LayoutSheet.Cautions;

    /// <summary>What is known of the build, name and text.</summary>
    public IEnumerable<(string Name, string Text)> Facts()
    {
        BuildFacts f = Build.Facts;
        (string, string?)[] all =
        [
            ("Owner", f.Owner), ("Blank", f.Blank), ("Length", f.BlankLengthMm is { } length ? UnitsText.Both(length, LengthUnit.Millimetres) : null),
            ("Pieces", f.Pieces?.ToString()), ("Spine", f.SpineMark), ("Handle", f.Handle), ("Reel class", f.ReelClass?.ToString()), ("Line", f.Line),
            ("Guides", f.Side switch { BendSide.Inside => "inside of the bend (spinning)", BendSide.Outside => "outside of the bend (casting)", _ => null }),
            ("Use", f.Use), ("Remarks", f.Remarks), ("Id", Build.Id),
        ];
        return all.Where(p => !string.IsNullOrWhiteSpace(p.Item2)).Select(p => (p.Item1, p.Item2!));
    }

    /// <summary>The measurement in a line.</summary>
    public string? Headline => Latest is { } m
        ? $"{m.Label ?? "Latest test"}, {m.MadeAt:yyyy-MM-dd}: {(m.Status == MeasurementStatus.Ok ? "ok" : "needs review: look at the warnings before trusting a figure")}; "
            + $"tip turned through {m.TipTurnDeg:0.0}°, program {m.ProgramVersion}"
        : null;

    /// <summary>The tables: title, heads, rows.</summary>
    public IEnumerable<SheetTable> Tables()
    {
        if (Measurement is { } m)
        {
            yield return new SheetTable(
                "Guides as measured, from the reel", ["guide", "from tip, mm", "±", "inches", "from reel, mm", "height, mm", "line angle"],
                [.. m.Guides.Select(g => new[]
                {
                    Name(m, g.Index), $"{g.StationMm:0.0}", $"{UnitsText.RoundedUp(g.StationUncertaintyMm, 0.1):0.0}", UnitsText.Sixteenths(g.StationMm), g.FromReelMm is { } reel ? $"{reel:0.0}" : "–",
                    $"{g.HeightMm:0.0}", g.LineAngleDeg is { } angle ? $"{angle:0.0}°" : "–",
                })]);
            yield return new SheetTable(
                "Pairs", ["pair", "gap, mm", "±", "bow, mm", "±", "clearance, mm", "largest"],
                [.. m.Intervals.Select(i => new[]
                {
                    $"{Name(m, i.From)} to {Name(m, i.To)}", $"{i.GapMm:0.0}", $"{UnitsText.RoundedUp(i.GapUncertaintyMm, 0.1):0.0}", $"{i.BowMm:0.0}", $"{UnitsText.RoundedUp(i.BowUncertaintyMm, 0.1):0.0}",
                    $"{i.ClearanceMm:0.0}", Mark(m, i),
                })]);
        }

        if (Build.Facts.Guides.Count > 0)
            yield return Stations("Guides as built, from the reel", [.. Build.Facts.Guides.Select(g => (new LayoutStation(g.FromTipMm, g.FromReelMm, g.RingSizeMm, null), g.Frame))]);
        foreach (ConsideredLayout layout in Build.Layouts)
            yield return Stations($"Layout \"{layout.Name}\"{(layout.Id == Build.ChosenLayoutId ? ", chosen" : "")}: {layout.Basis}", [.. layout.Stations.Select(s => (s, (string?)null))]);
        if (Build.Measurements.Count > 1)
        {
            yield return new SheetTable(
                "All tests", ["made", "label", "guides", "tip turn", "largest gap, mm", "largest bow, mm"],
                [.. Build.Measurements.Select(t => new[] { $"{t.MadeAt:yyyy-MM-dd}", t.Label ?? "–", $"{t.GuideCount}", $"{t.TipTurnDeg:0.0}°", $"{t.LargestGapMm:0.0}", $"{t.LargestBowMm:0.0}" })]);
        }
    }

    /// <summary>The drawing to scale: the layout that was chosen, else as built, else as measured; null where there is none.</summary>
    public SheetLayout? Drawing()
    {
        IReadOnlyList<LayoutStation> stations = Build.ChosenLayout?.Stations ?? (Build.Facts.Guides.Count > 0 ? LayoutStations.Of(Build.Facts) : Measurement is { } m ? LayoutStations.Of(m) : []);
        double length = Math.Max(Build.Facts.BlankLengthMm ?? Measurement?.Blank?.TracedLengthMm ?? 0, stations.Select(s => s.FromTipMm).DefaultIfEmpty(0).Max());
        if (stations.Count == 0 || length <= 0)
            return null;
        SheetLayout layout = new(
            Build.Facts.Name, length,
            [.. stations.Select((s, i) => new SheetGuide(s.FromTipMm == 0 ? "T" : $"{i + 1}", s.FromTipMm == 0 ? "tip-top" : "guide", s.FromTipMm, s.FromReelMm, s.RingSizeMm, s.HeightMm))])
        {
            LengthIsTraced = Build.Facts.BlankLengthMm is null,
        };
        return SheetChecks.Problem(layout) is null ? layout : null;
    }

    private static SheetTable Stations(string title, IReadOnlyList<(LayoutStation Station, string? Frame)> stations) => new(
        title, ["guide", "frame", "ring, mm", "from tip, mm", "inches", "from reel, mm"],
        [.. stations.Select((s, i) => new[]
        {
            s.Station.FromTipMm == 0 ? "tip-top" : $"{i + 1}", s.Frame ?? "–", s.Station.RingSizeMm is { } ring ? $"{ring:0.#}" : "–", $"{s.Station.FromTipMm:0.0}", UnitsText.Sixteenths(s.Station.FromTipMm),
            s.Station.FromReelMm is { } reel ? $"{reel:0.0}" : "–",
        })]);

    private static string Mark(Measurement m, IntervalReport i) => string.Join(", ", new[]
    {
        m.Largest is { } g && (g.GapFrom, g.GapTo) == (i.From, i.To) ? "gap" : null,
        m.Largest is { } b && (b.BowFrom, b.BowTo) == (i.From, i.To) ? "bow" : null,
        i.TouchesBlank ? "touches blank" : null,
    }.OfType<string>());

    private static string Name(Measurement m, int index) => m.Guides.Any(g => g.Index == index && g.IsTip) ? "tip-top" : $"{index}";
}

/// <summary>A table of a sheet.</summary>
public sealed record SheetTable(string Title, IReadOnlyList<string> Heads, IReadOnlyList<IReadOnlyList<string>> Rows);
