using DeflectScan.Layout;
using DeflectScan.Reporting.Sheets;

namespace DeflectScan.Desk;

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
        int reduction = reductionGuides ?? (rod.Side == GuideSide.Inside ? SuggestionOptions.DefaultHeld(rod.Side) : 0);
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
}
