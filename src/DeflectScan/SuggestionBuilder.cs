using DeflectScan.Calibration;
using DeflectScan.Layout;

namespace DeflectScan;

/// <summary>Puts the layout's suggestion into the document's terms: guides counted from 1, ring points in px.</summary>
internal static class SuggestionBuilder
{
    public static SuggestionReport Build(LayoutFigures figures, GuideSide side, MeasureOptions options, RodPlane plane)
    {
        int held = options.HoldGuides ?? SuggestionOptions.DefaultHeld(side);
        SuggestionResult found = Suggestion.For(figures.Shape, figures.Layout.Rings, side, held, new SuggestionOptions());
        return new SuggestionReport(
            found.Why,
            found.AddAtMm,
            [.. found.Moves.Select(m => new MoveReport(m.Ring + 1, m.FromMm, m.ToMm))],
            found.BowBeforeMm,
            found.BowAfterMm,
            found.GapBeforeMm,
            found.GapAfterMm,
            found.Kind == SuggestionKind.None ? [] : [.. found.Rings.Select(Guide)]);

        SuggestedGuide Guide(SuggestedRing ring) => new(
            ring.Measured + 1, ring.Point.StationMm, ring.Point.DistanceMm, plane.ToPhoto(ring.Point.PointMm));
    }
}
