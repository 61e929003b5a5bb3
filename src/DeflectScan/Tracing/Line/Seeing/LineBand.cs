using DeflectScan.Calibration;
using DeflectScan.Photos;

namespace DeflectScan.Tracing.Line;

/// <summary>The band beside the blank on one side and its response to thin lines: what does not depend on which rings there are.</summary>
/// <param name="Strip">At full resolution.</param>
/// <param name="Paired">Two columns in one.</param>
/// <param name="Response">Of the paired band.</param>
/// <param name="Spread">Its noise.</param>
internal sealed record LineBand(BandStrip Strip, BandStrip Paired, ThinResponse Response, TileSpread Spread)
{
    private const double BeyondTipMm = 5;
    private const double BeyondHandleMm = 40;
    private const double BelowAxisMm = 12;

    /// <summary>The line may run along the blank at one height from ring to ring, but not over so long a way, mm to each side.</summary>
    public const double WideWindowMm = 350;

    /// <summary>Evidence of a line in any colour, with what the blank's edge does to the picture taken off as far as it can be told from a line that runs along it.</summary>
    public ChordBand Blind { get; } = new(ChordMap.Blind(EdgeFree.Compute(Response, Spread, EdgeProfile.Measure(Paired, windowMm: WideWindowMm), null)));

    /// <param name="photo">The photo.</param>
    /// <param name="plane">The rod plane.</param>
    /// <param name="axis">The blank.</param>
    /// <param name="insideSign">+1 where the axis' normal points to the inside of the bend.</param>
    /// <param name="isInside">Whether the rings stand inside.</param>
    /// <param name="options">How far the band reaches.</param>
    public static LineBand Sample(UprightPhoto photo, RodPlane plane, BlankAxis axis, double insideSign, bool isInside, LineOptions options)
    {
        double step = Math.Max(options.FinestStepMm, plane.MmPerPx(axis.Curve.Point(axis.Curve.Length / 2)));
        BandStrip strip = BandStrip.Sample(
            photo.Bgr, plane, axis, isInside ? insideSign : -insideSign, step,
            (-options.TipSearchMm - BeyondTipMm, axis.HandleStationMm + BeyondHandleMm), (-BelowAxisMm, isInside ? options.BandMm : options.OutsideBandMm));
        BandStrip paired = strip.Paired();
        ThinResponse response = ThinResponse.Of(paired);
        return new LineBand(strip, paired, response, TileSpread.Measure(response));
    }
}
