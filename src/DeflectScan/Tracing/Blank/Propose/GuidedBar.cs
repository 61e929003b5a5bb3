using DeflectScan.Calibration;
using DeflectScan.Geometry;
using DeflectScan.Photos;
using DeflectScan.Tracing.Reading;

namespace DeflectScan.Tracing.Blank;

/// <summary>
/// From the network's proposal to a bar measured on the photo. The proposal says where the blank runs and how far, the body seen on the strip along it
/// centres it; edges near the body's outline say where exactly, and move its ends by no more than the proposal may be wrong. What hides the blank or looks
/// like it therefore neither ends the trace nor leads it away.
/// </summary>
internal sealed class GuidedBar(UprightPhoto photo, RodPlane plane, AxisOptions options)
{
    /// <summary>
    /// How far beside the body that the network sees the bar is looked for, mm: 99 in 100 of the body's middles lie within 1.2 of the blank's (docs/reader.md).
    /// </summary>
    private const double WindowMm = 1.2;

    /// <summary>How far its ends may be wrong, mm: on the same scenes within 13 mm at the tip; the butt's likeliest place within 30 in seven of eight.</summary>
    private const double TipMm = 15;
    private const double ButtMm = 40;

    private const double SmoothMm = 80;
    private const double KnotMm = 80;

    /// <summary>A thin tip bends within some centimetres.</summary>
    private const double FineKnotMm = 25;

    /// <param name="proposed">The proposal's curve, with the widths of a common blank.</param>
    /// <param name="sure">How surely the network sees the blank there; a function of the place in the rod plane, mm.</param>
    /// <param name="ends">Logarithm of the probability that both of its ends are the blank's.</param>
    public RodCandidate? Build(TracedBar proposed, Func<Vec2, double> sure, double ends)
    {
        double mmPerPx = plane.MmPerPx(proposed.Curve.Point(proposed.Length / 2));
        if (SeenBody.Settled(proposed, photo, plane) is not { } body)
            return null;
        AxisRefiner rough = new(photo, plane, mmPerPx, EdgeFinder.SharpPx, options.Sharpening, body);
        if (rough.FirstPass(body.Bar, WindowMm, out double blurPx) is not { } bar)
            return null;
        blurPx = Math.Min(blurPx, options.PrintBlurPx ?? double.MaxValue);
        AxisRefiner refiner = new(photo, plane, mmPerPx, blurPx, options.Sharpening, body);
        bar = refiner.FirstPass(bar.Smoothed(SmoothMm), Math.Max(2, 2 * mmPerPx), out _) ?? bar;
        bar = refiner.Pass(bar.Smoothed(SmoothMm), Math.Max(2, 2 * mmPerPx), KnotMm).Bar;
        bar = Ended(refiner, bar.Smoothed(SmoothMm).Extended(TipMm, 150).Reversed().Extended(ButtMm, 150).Reversed(), mmPerPx);
        (TracedBar last, AxisFit fit, List<BarStation> readings, List<BarStation> all) = refiner.Pass(bar.Smoothed(SmoothMm), Math.Max(1, 1.5 * mmPerPx), FineKnotMm);
        return new RodCandidate(
            last, fit, readings, refiner.Sights(readings, fit), blurPx, HandleFinder.Share(photo, plane, last, mmPerPx, blurPx, options.Sharpening),
            body, all, [.. readings.Select(r => sure(bar.Curve.Point(r.S)))], [.. readings.Select(r => body.Sure(bar.Curve.Point(r.S)))], ends);
    }

    // The bar reaches beyond both proposed ends: within what these may be wrong it ends where it is seen last.
    private static TracedBar Ended(AxisRefiner refiner, TracedBar bar, double mmPerPx)
    {
        (_, AxisFit fit, List<BarStation> readings, _) = refiner.Pass(bar, Math.Max(1.5, 2 * mmPerPx), KnotMm);
        Sight[] sights = refiner.Sights(readings, fit);
        double half = refiner.StationMm / 2;
        double tip = LastSeen(refiner.StationMm, readings, sights, bar.Length, TipMm) is { } t ? readings[t].S + half : bar.Length - TipMm;
        List<BarStation> back = [.. readings.AsEnumerable().Reverse().Select(r => r with { S = bar.Length - r.S })];
        double butt = LastSeen(refiner.StationMm, back, [.. sights.Reverse()], bar.Length, ButtMm) is { } k ? bar.Length - back[k].S - half : ButtMm;
        return fit.Apply(bar, Math.Max(fit.From, butt), Math.Min(fit.To, tip));
    }

    // The last reading that shows the bar within the last stretch, where the end may lie; null where none does.
    private static int? LastSeen(double stationMm, List<BarStation> readings, Sight[] sights, double length, double endMm)
    {
        int known = readings.FindLastIndex(r => r.S <= length - (2 * endMm));
        if (known < 0)
            return null;
        int last = new BarRun(stationMm, 2 * endMm).LastGood(sights, known);
        return last > known ? last : null;
    }
}
