using DeflectScan.Calibration;
using DeflectScan.Photos;
using DeflectScan.Reporting.Cards;
using DeflectScan.Reporting.Drawing;
using DeflectScan.Reporting.Unrolled;
using DeflectScan.Tracing;
using OpenCvSharp;
using SkiaSharp;

namespace DeflectScan.Reporting.Unrolled;

/// <summary>
/// The band along the blank, straightened: station along, distance from the axis across, with rulers, numbered guides and gaps.
/// The line's straight pieces become a row of arcs, so that the gaps can be compared at a glance.
/// </summary>
public static class UnrolledStrip
{
    /// <summary>Draws the strip as a PNG file's bytes; the same input gives the same bytes.</summary>
    /// <param name="photo">The photo that was measured.</param>
    /// <param name="plane">Its rod plane.</param>
    /// <param name="axis">The traced blank, s = 0 at the tip.</param>
    /// <param name="m">The measurement of the same photo.</param>
    /// <param name="options">Size and exaggeration.</param>
    public static byte[] Draw(UprightPhoto photo, RodPlane plane, BlankAxis axis, Measurement m, UnrolledOptions? options = null)
    {
        UnrolledOptions o = options ?? new UnrolledOptions();
        Unrolling unrolling = new(plane, axis, m, o);
        StripLanes lanes = new(m, unrolling, o.Unit);
        InfoStrip head = o.IsBare ? new InfoStrip() : Head(m, unrolling, o);
        InfoStrip foot = new();
        if (!o.IsBare)
            foot.AddKeys(OverlayLegend.Keys(m, o.Unit), 23, 42);

        float unit = unrolling.WidthPx / 1000f;
        int above = (int)Math.Ceiling(unit * (head.HeightWithMargin + (unrolling.GuidesUp ? lanes.GapHeight : lanes.GuideHeight)));
        int bandEnd = above + unrolling.HeightPx;
        int rulers = bandEnd + (int)Math.Ceiling(unit * (unrolling.GuidesUp ? lanes.GuideHeight : lanes.GapHeight));
        int legend = rulers + (int)Math.Ceiling(unit * StripRulers.Height);
        using Picture picture = new(unrolling.WidthPx, legend + (int)Math.Ceiling(unit * foot.HeightWithMargin));
        using (Mat band = BandSampler.Sample(photo.Bgr, unrolling))
            picture.Lay(band, 0, above);

        Brush brush = picture.Brush;
        brush.Canvas.Save();
        brush.Canvas.ClipRect(new SKRect(0, above, unrolling.WidthPx, bandEnd));
        new StripMarks(m, unrolling, brush, above, o.Unit).Draw();
        brush.Canvas.Restore();
        lanes.DrawGuides(brush, unrolling.GuidesUp ? bandEnd : above, above, down: unrolling.GuidesUp);
        lanes.DrawGaps(brush, unrolling.GuidesUp ? above : bandEnd, above, down: !unrolling.GuidesUp);
        StripRulers.Draw(brush, unrolling, rulers);
        head.Draw(brush, 0);
        foot.Draw(brush, legend);
        return picture.ToPng();
    }

    private static InfoStrip Head(Measurement m, Unrolling unrolling, UnrolledOptions o)
    {
        InfoStrip strip = new();
        strip.Add(OverlayWords.Headline(m, o.Unit), 32, Palette.Paper, bold: true, StatusIcon.For(m.Status));
        string ends = unrolling.TipRight ? "reel on the left, tip on the right" : "tip on the left, reel on the right";
        string heights = unrolling.Exaggeration == 1 ? "heights to scale" : $"heights drawn {unrolling.Exaggeration:0.#} times as tall";
        strip.Add($"The blank straightened: {ends}; {heights}.", 24, Palette.Quiet);
        return strip;
    }
}
