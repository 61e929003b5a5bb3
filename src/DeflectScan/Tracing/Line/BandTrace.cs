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

    /// <summary>Share of the better side's score in any colour below which the other side is out of the question.</summary>
    private const double FarBehind = 0.5;

    /// <summary>Least score a path in the line's own colour must have.</summary>
    private const double LeastScore = 120;

    /// <summary>By how much neighbouring samples repeat each other (blur, texture): sums of independent samples would have this at 1.</summary>
    private const float Likeness = 1f;

    public static BandTrace? Best(UprightPhoto photo, RodPlane plane, BlankAxis axis, LineOptions options)
    {
        double concave = Math.Sign(Turn(axis));
        BlindTrace? inside = options.Side == BendSide.Outside ? null : BlindTrace.On(photo, plane, axis, BendSide.Inside, concave, options);
        BlindTrace? outside = options.Side == BendSide.Inside ? null : BlindTrace.On(photo, plane, axis, BendSide.Outside, -concave, options);
        BlindTrace? first = outside is null || inside?.Path.Score >= outside.Path.Score ? inside : outside;
        BlindTrace? second = first == inside ? outside : inside;
        if (first is null)
            return null;
        BandTrace? best = InColour(first);

        // A path that is far behind in any colour is not looked at again.
        if (second is null || (best is not null && second.Path.Score < FarBehind * first.Path.Score))
            return best;
        BandTrace? other = InColour(second);
        if (best is null || other is null)
            return best ?? other;
        if (other.Path.Score > best.Path.Score)
            (best, other) = (other, best);
        return best with { OtherSideShare = Math.Min(other.Path.Score / best.Path.Score, other.BlindScore / best.BlindScore) };
    }

    /// <summary>Angle that the axis turns through from the tip to its end, positive towards its normal.</summary>
    private static double Turn(BlankAxis axis) => axis.Curve.Tangent(0).Cross(axis.Curve.Tangent(axis.Curve.Length / 2))
        + axis.Curve.Tangent(axis.Curve.Length / 2).Cross(axis.Curve.Tangent(axis.Curve.Length));

    private static BandTrace? InColour(BlindTrace blind)
    {
        BandPath? path = blind.Path;
        BlockEvidence evidence = blind.Evidence;
        TileSpread spread = TileSpread.Measure(blind.Response);
        LikelihoodMap? map = null;
        LineColour? colour = null;
        for (int pass = 0; pass < 2; pass++)
        {
            colour = LineColour.Learn(blind.Response, path, evidence, plainScore: 3);
            if (colour is null)
                return null;
            map = LikelihoodMap.Compute(blind.Response, spread, colour);
            evidence = BlockEvidence.Compute(map, blind.Evidence, Likeness);
            path = PathSearch.Best(evidence, blind.Turn, blind.StartReachMm);
            if (path is null || path.Score < LeastScore)
                return null;
        }

        return new BandTrace(blind.Side, blind.Strip, colour!, evidence, path, map!) { BlindScore = blind.Path.Score };
    }
}
