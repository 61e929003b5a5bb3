using DeflectScan.Records.Model;
using DeflectScan.Reporting.Cards;
using DeflectScan.Reporting.Sheets;

namespace DeflectScan.Records.Reports;

/// <summary>The layout of a build that is drawn, saved and printed as a tape.</summary>
public static class SheetDrawing
{
    /// <summary>The layout that was chosen, else the guides as built, as measured, or the layout considered last.</summary>
    /// <param name="build">The build.</param>
    /// <param name="measurement">Its measurement, for the guides as measured; null where there is none.</param>
    /// <returns>What it is, and the layout; null where there is none that can be drawn.</returns>
    public static (string Title, SheetLayout Layout)? Of(Build build, Measurement? measurement)
    {
        (string, IReadOnlyList<LayoutStation>)[] all =
        [
            .. build.ChosenLayout is { } chosen ? [($"layout \"{chosen.Name}\", chosen", chosen.Stations)] : Array.Empty<(string, IReadOnlyList<LayoutStation>)>(),
            ("guides as built", LayoutStations.Of(build.Facts)),
            ("guides as measured", measurement is null ? [] : LayoutStations.Of(measurement)),
            .. build.Layouts.Reverse().Take(1).Select(l => ($"layout \"{l.Name}\"", l.Stations)),
        ];
        foreach ((string title, IReadOnlyList<LayoutStation> stations) in all)
        {
            if (Of(build, measurement, stations) is { } layout)
                return (SheetText.Of(title), layout);
        }

        return null;
    }

    /// <summary>Stations on the build's blank; null where there are none or they cannot be drawn.</summary>
    public static SheetLayout? Of(Build build, Measurement? measurement, IReadOnlyList<LayoutStation> stations)
    {
        if (stations.Count == 0)
            return null;
        double farthest = stations.Max(s => s.FromTipMm);
        double? whole = build.Facts.BlankLengthMm >= farthest ? build.Facts.BlankLengthMm : null;
        double length = whole ?? new[] { measurement?.Blank?.TracedLengthMm ?? 0, farthest, stations.Max(s => s.FromTipMm + s.FromReelMm) ?? 0 }.Max();
        SheetLayout layout = new(
            SheetText.Of(build.Facts.Name).ReplaceLineEndings(" "), length,
            [.. stations.Select((s, i) => new SheetGuide(s.FromTipMm == 0 ? "T" : $"{i + 1}", s.FromTipMm == 0 ? "tip-top" : "guide", s.FromTipMm, s.FromReelMm, s.RingSizeMm, s.HeightMm))])
        {
            LengthIsTraced = whole is null,
        };
        return length > 0 && SheetChecks.Problem(layout) is null ? layout : null;
    }
}
