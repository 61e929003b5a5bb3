using DeflectScan.Reporting.Sheets;

namespace DeflectScan.Records.Model;

/// <summary>Where a build's layouts come from, as stations from the reel to the tip-top.</summary>
public static class LayoutStations
{
    /// <summary>The guides as a photo shows them.</summary>
    public static IReadOnlyList<LayoutStation> Of(Measurement m) =>
        [.. m.Guides.Select(g => new LayoutStation(g.StationMm, g.FromReelMm, g.RingOuterMm, g.HeightMm))];

    /// <summary>What a measurement suggests; empty where it suggests no change.</summary>
    public static IReadOnlyList<LayoutStation> OfSuggestion(Measurement m)
    {
        double? reel = m.Guides.FirstOrDefault(g => g.FromReelMm is not null) is { } known ? known.StationMm + known.FromReelMm : null;
        return m.Suggestion is { } s
            ? [.. s.Layout.OrderByDescending(g => g.StationMm).Select(g => new LayoutStation(g.StationMm, reel - g.StationMm, Ring(m, g.Index), g.HeightMm))]
            : [];
    }

    /// <summary>A layout that the layout desk kept.</summary>
    public static IReadOnlyList<LayoutStation> Of(SheetLayout layout) =>
        [.. layout.Guides.OrderByDescending(g => g.FromTipMm).Select(g => new LayoutStation(g.FromTipMm, g.FromReelMm, g.RingSizeMm, g.HeightMm))];

    /// <summary>The guides as built.</summary>
    public static IReadOnlyList<LayoutStation> Of(BuildFacts facts) =>
        [.. facts.Guides.Select(g => new LayoutStation(g.FromTipMm, g.FromReelMm, g.RingSizeMm, null))];

    private static double? Ring(Measurement m, int? index) => index is null ? null : m.Guides.FirstOrDefault(g => g.Index == index)?.RingOuterMm;
}
