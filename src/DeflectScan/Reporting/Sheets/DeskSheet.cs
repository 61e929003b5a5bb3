using DeflectScan.Bending;
using DeflectScan.Desk;
using DeflectScan.Layout;
using DeflectScan.Layout.Start;
using DeflectScan.Layout.Suggesting;

namespace DeflectScan.Reporting.Sheets;

/// <summary>Layouts in the form that is kept and printed.</summary>
public static class DeskSheet
{
    /// <summary>A judged layout on its measured blank.</summary>
    /// <param name="rod">The rod.</param>
    /// <param name="layout">The layout.</param>
    /// <param name="title">The rod or build, one line.</param>
    /// <param name="reductionGuides">Guides from the reel that are called reduction guides; null for the usual number on that side of the bend.</param>
    public static SheetLayout Of(MeasuredLayout rod, JudgedLayout layout, string title, int? reductionGuides = null)
    {
        int reduction = reductionGuides ?? layout.ReductionGuides;
        return new SheetLayout(
            title,
            rod.ReelStationMm is { } reel && reel > rod.Shape.LengthMm ? reel : rod.Shape.LengthMm,
            [.. layout.Guides.Select(g => new SheetGuide(
                g.IsTip ? "T" : $"{g.Guide}",
                g.IsTip ? "tip-top" : g.Guide <= reduction ? "reduction guide" : "running guide",
                g.StationMm,
                g.FromReelMm,
                g.RingOuterMm,
                g.HeightMm))])
        {
            LengthIsTraced = true,
        };
    }

    /// <summary>The layout that is best over several bends; its heights are not known before it is built.</summary>
    public static SheetLayout Of(MeasuredLayout rod, RangeLayout best, string title)
    {
        int last = best.StationsMm.Count - 1;
        return new SheetLayout(
            title,
            rod.ReelStationMm is { } reel && reel > rod.Shape.LengthMm ? reel : rod.Shape.LengthMm,
            [.. best.StationsMm.Select((s, i) => new SheetGuide(
                i == last ? "T" : $"{i + 1}", i == last ? "tip-top" : i < SuggestionOptions.DefaultHeld(rod.Side) ? "reduction guide" : "running guide", s, rod.ReelStationMm - s, null, null))])
        {
            LengthIsTraced = true,
        };
    }

    /// <summary>A start layout: stations from the tip of a rod whose blank is taken to end at the butt.</summary>
    public static SheetLayout Of(StartLayout layout, StartInput input, string title) => new(
        title,
        input.RodLengthMm,
        [.. layout.Guides.Select((g, i) => new SheetGuide(
            g.Role == GuideRole.TipTop ? "T" : $"{i + 1}",
            g.Role switch { GuideRole.Reduction => "reduction guide", GuideRole.Running => "running guide", _ => "tip-top" },
            g.FromTipMm,
            g.FromReelMm,
            g.RingSize,
            null))]);

    /// <summary>A layout carried over to another blank.</summary>
    /// <param name="carried">The layout.</param>
    /// <param name="reductionGuides">Guides from the reel that are reduction guides.</param>
    /// <param name="rings">Ring diameters where known, from the reel to the tip-top.</param>
    /// <param name="title">The rod or build, one line.</param>
    public static SheetLayout Of(CarriedLayout carried, int reductionGuides, IReadOnlyList<double?> rings, string title) => new(
        title,
        carried.FromReelMm[^1],
        [.. carried.FromTipMm.Select((tip, i) => new SheetGuide(
            i == carried.FromTipMm.Count - 1 ? "T" : $"{i + 1}",
            i == carried.FromTipMm.Count - 1 ? "tip-top" : i < reductionGuides ? "reduction guide" : "running guide",
            tip,
            carried.FromReelMm[i],
            rings[i],
            null))])
    {
        LengthIsTraced = true,
    };
}
