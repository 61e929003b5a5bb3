using DeflectScan.Calibration;
using DeflectScan.Photos;

namespace DeflectScan.Tracing.Line;

/// <summary>The line as found in the band of one side.</summary>
internal sealed record BandTrace(BendSide Side, BandStrip Strip, LineColour Colour, BlockEvidence Evidence, BandPath Path, LikelihoodMap Map)
{
    /// <summary>Score of the path when the line's colour was not known yet.</summary>
    public double BlindScore { get; init; }

    /// <summary>Score of the other side's best path over this one's, in any colour or in its own, the lesser; 0 where it had none.</summary>
    public double OtherSideShare { get; init; }

    private const double BlockMm = 13;
    private const double MaxSlope = 0.45;

    /// <summary>Least score of a path in any colour that is worth a second look; noise alone reaches about 30.</summary>
    private const double LeastBlindScore = 45;

    /// <summary>Least score a path in the line's own colour must have.</summary>
    private const double LeastScore = 120;

    /// <summary>By how much neighbouring samples repeat each other (blur, texture): sums of independent samples would have this at 1.</summary>
    private const float Likeness = 2f;

    public static BandTrace? Best(UprightPhoto photo, RodPlane plane, BlankAxis axis, LineOptions options)
    {
        double concave = Math.Sign(Turn(axis));
        BendSide[] sides = options.Side is { } given ? [given] : [BendSide.Inside, BendSide.Outside];
        BandTrace?[] both = [.. sides.Select(side => OnSide(photo, plane, axis, side, side == BendSide.Inside ? concave : -concave, options))];
        BandTrace? best = both.Where(t => t is not null).MaxBy(t => t!.Path.Score);
        BandTrace? other = both.FirstOrDefault(t => t is not null && t != best);
        return best is null || other is null
            ? best
            : best with { OtherSideShare = Math.Min(other.Path.Score / best.Path.Score, other.BlindScore / best.BlindScore) };
    }

    /// <summary>Angle that the axis turns through from the tip to its end, positive towards its normal.</summary>
    private static double Turn(BlankAxis axis) => axis.Curve.Tangent(0).Cross(axis.Curve.Tangent(axis.Curve.Length / 2))
        + axis.Curve.Tangent(axis.Curve.Length / 2).Cross(axis.Curve.Tangent(axis.Curve.Length));

    private static BandTrace? OnSide(UprightPhoto photo, RodPlane plane, BlankAxis axis, BendSide side, double sign, LineOptions options)
    {
        double step = Math.Max(options.FinestStepMm, plane.MmPerPx(axis.Curve.Point(axis.Curve.Length / 2)));
        double turn = side == BendSide.Inside ? 1 : -1;
        BandStrip strip = BandStrip.Sample(photo.Bgr, plane, axis, sign, step, (-options.TipSearchMm - 5, axis.HandleStationMm + 40), (-12, side == BendSide.Inside ? options.BandMm : options.OutsideBandMm));
        ThinResponse response = ThinResponse.Of(strip);
        BlockEvidence blind = BlockEvidence.Compute(response, BlockMm, MaxSlope, side == BendSide.Outside);
        BandPath? path = PathSearch.Best(blind, turn, options.TipSearchMm);
        if (path is null || path.Score < LeastBlindScore)
            return null;
        double blindScore = path.Score;
        BlockEvidence evidence = blind;
        LikelihoodMap? map = null;
        LineColour? colour = null;
        for (int pass = 0; pass < 2; pass++)
        {
            colour = LineColour.Learn(response, path, evidence, plainScore: 3);
            if (colour is null)
                return null;
            map = LikelihoodMap.Compute(response, colour);
            evidence = BlockEvidence.Compute(map, blind, Likeness);
            path = PathSearch.Best(evidence, turn, options.TipSearchMm);
            if (path is null || path.Score < LeastScore)
                return null;
        }

        return new BandTrace(side, strip, colour!, evidence, path, map!) { BlindScore = blindScore };
    }
}
