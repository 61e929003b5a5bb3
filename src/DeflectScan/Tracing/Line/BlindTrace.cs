using DeflectScan.Calibration;
using DeflectScan.Photos;

namespace DeflectScan.Tracing.Line;

/// <summary>The best taut line of any colour in the band of one side.</summary>
/// <param name="Side">Which side.</param>
/// <param name="Turn">+1 where the line turns towards growing heights at its rings, else -1.</param>
/// <param name="Strip">The band.</param>
/// <param name="Response">Response to thin lines, two columns of the band in one.</param>
/// <param name="Evidence">Scores of its blocks.</param>
/// <param name="Path">The best path; null where nothing like a line was seen.</param>
/// <param name="StartReachMm">How far from the axis' end the path may start.</param>
internal sealed record BlindTrace(BendSide Side, double Turn, BandStrip Strip, ThinResponse Response, BlockEvidence Evidence, BandPath? Path, double StartReachMm)
{
    private const double BlockMm = 13;
    private const double MaxSlope = 0.45;

    /// <summary>Least score of a path in any colour that is worth a second look; noise alone reaches about 30.</summary>
    private const double LeastScore = 45;

    /// <summary>Score of the best path; 0 where there is none.</summary>
    public double Score => Path?.Score ?? 0;

    public static BlindTrace On(UprightPhoto photo, RodPlane plane, BlankAxis axis, BendSide side, double sign, LineOptions options)
    {
        double step = Math.Max(options.FinestStepMm, plane.MmPerPx(axis.Curve.Point(axis.Curve.Length / 2)));
        double height = side == BendSide.Inside ? options.BandMm : options.OutsideBandMm;
        BandStrip strip = BandStrip.Sample(photo.Bgr, plane, axis, sign, step, (-options.TipSearchMm - 5, axis.HandleStationMm + 40), (-12, height));
        ThinResponse response = ThinResponse.Of(strip.Paired());
        BlockEvidence evidence = BlockEvidence.Compute(response, BlockMm, MaxSlope, side == BendSide.Outside);
        double turn = side == BendSide.Inside ? 1 : -1;
        BandPath? path = PathSearch.Best(evidence, turn, options.TipSearchMm);
        return new BlindTrace(side, turn, strip, response, evidence, path?.Score < LeastScore ? null : path, options.TipSearchMm);
    }
}
