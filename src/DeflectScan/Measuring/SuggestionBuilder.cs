using DeflectScan.Calibration;
using DeflectScan.Desk;
using DeflectScan.Geometry;
using DeflectScan.Layout;
using DeflectScan.Layout.Suggesting;
using DeflectScan.Reporting.Json;

namespace DeflectScan.Measuring;

/// <summary>
/// The layout's suggestion, worked out from the document as it is written, so that the layout desk, which has nothing else, finds the same one to the last
/// digit. Guides are counted from 1.
/// </summary>
internal static class SuggestionBuilder
{
    /// <param name="measured">The measurement without a suggestion.</param>
    /// <param name="inPlane">From the document's frame to the rod plane's.</param>
    /// <param name="plane">The rod plane.</param>
    /// <returns>Null where the document's parts do not fit together.</returns>
    public static SuggestionReport? Build(Measurement measured, Func<Vec2, Vec2> inPlane, RodPlane plane)
    {
        if (MeasuredLayout.Of(AsWritten(measured)).Value is not { } rod)
            return null;
        SuggestionResult found = Suggestion.For(rod.Shape, rod.Rings, rod.Side, rod.Reduction, rod.Worth);
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
            ring.Measured + 1, ring.Point.StationMm, ring.Point.DistanceMm, plane.ToPhoto(inPlane(ring.Point.PointMm)));
    }

    private static Measurement AsWritten(Measurement m) => m with
    {
        Blank = m.Blank! with
        {
            Axis = [.. m.Blank.Axis.Select(a => a with { SMm = Written(a.SMm), Mm = new Vec2(Written(a.Mm.X), Written(a.Mm.Y)), DiameterMm = Written(a.DiameterMm) })],
        },
        Guides = [.. m.Guides.Select(g => g with { Station = g.Station with { Mm = Written(g.StationMm) }, Height = g.Height with { Mm = Written(g.HeightMm) } })],
    };

    private static double Written(double mm) => Math.Round(mm, MeasurementJson.LengthDecimals);
}
