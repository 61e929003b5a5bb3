using DeflectScan.Calibration;
using DeflectScan.Photos;
using DeflectScan.Tracing.Line.Outside;

namespace DeflectScan.Tracing.Line;

/// <summary>The line as found in the band of one side.</summary>
/// <param name="Side">Which side.</param>
/// <param name="Strip">The band.</param>
/// <param name="Colour">The line's colour.</param>
/// <param name="Score">Log-likelihood ratio of the line against none.</param>
internal sealed record BandTrace(BendSide Side, BandStrip Strip, LineColour Colour, double Score)
{
    /// <summary>A path that was found without its rings, and the blocks it was found in; null where line and rings were found together.</summary>
    public FreePath? Free { get; init; }

    /// <summary>Line and rings found together; null on the inside of the bend.</summary>
    public OutsideTrace? Rings { get; init; }

    /// <summary>Score of the other side's best path over this one's; 0 where it had none or was far behind in any colour.</summary>
    public double OtherSideShare { get; init; }

    /// <summary>Share of the better side's score in any colour below which the other side is out of the question.</summary>
    private const double FarBehind = 0.5;

    /// <summary>Least score a path in the line's own colour must have.</summary>
    private const double LeastScore = 120;

    /// <summary>An inside path this plain in its own colour is not doubted for what stands on the outside: no wrong one comes near it on rendered photographs.</summary>
    private const double PlainInside = 1200;

    /// <summary>Least score of a line through rings.</summary>
    private const double LeastRingScore = 60;

    /// <summary>
    /// A free path may turn anywhere, one through rings only there: where there is no line the one reaches several times as much as the other
    /// on rendered photographs.
    /// </summary>
    private const double RingScoreWeight = 5;

    /// <summary>By how much neighbouring samples repeat each other (blur, texture): sums of independent samples would have this at 1.</summary>
    private const float Likeness = 1f;

    public static BandTrace? Best(UprightPhoto photo, RodPlane plane, BlankAxis axis, LineOptions options, bool withRings = true)
    {
        double concave = Math.Sign(Turn(axis));
        BlindTrace? inside = options.Side == BendSide.Outside ? null : BlindTrace.On(photo, plane, axis, BendSide.Inside, concave, options);
        BlindTrace? outside = options.Side == BendSide.Inside ? null : BlindTrace.On(photo, plane, axis, BendSide.Outside, -concave, options);
        double far = FarBehind * Math.Max(inside?.Score ?? 0, outside?.Score ?? 0);

        // A path that is far behind in any colour is not looked at again.
        BandTrace? one = inside is null || inside.Score < far ? null : InColour(inside);
        bool isFar = outside is null || outside.Score < far;
        BandTrace? other = outside is not null && withRings && !(isFar && one?.Score > PlainInside) ? ThroughRings(outside) : null;
        other ??= isFar ? null : InColour(outside!);
        if (one is null || other is null)
            return one ?? other;
        return one.Score > other.Score
            ? one with { OtherSideShare = other.Score / one.Score }
            : other with { OtherSideShare = one.Score / other.Score };
    }

    /// <summary>Angle that the axis turns through from the tip to its end, positive towards its normal.</summary>
    private static double Turn(BlankAxis axis) => axis.Curve.Tangent(0).Cross(axis.Curve.Tangent(axis.Curve.Length / 2))
        + axis.Curve.Tangent(axis.Curve.Length / 2).Cross(axis.Curve.Tangent(axis.Curve.Length));

    private static BandTrace? InColour(BlindTrace blind)
    {
        if (blind.Path is not { } path)
            return null;
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
            if (PathSearch.Best(evidence, blind.Turn, blind.StartReachMm) is not { } better || better.Score < LeastScore)
                return null;
            path = better;
        }

        return new BandTrace(blind.Side, blind.Strip, colour!, path.Score) { Free = new FreePath(evidence, path, map!) };
    }

    /// <summary>On the outside of the bend line and rings are found together. Null where no ring stands out.</summary>
    private static BandTrace? ThroughRings(BlindTrace blind)
    {
        OutsideTrace? rings = OutsideTrace.Find(blind.Strip);
        return rings is null || rings.Path.Score < LeastRingScore
            ? null
            : new BandTrace(blind.Side, blind.Strip, rings.Colour, RingScoreWeight * rings.Path.Score) { Rings = rings };
    }
}

/// <summary>A taut line's path that was found without its rings.</summary>
/// <param name="Evidence">The band's blocks in the line's colour.</param>
/// <param name="Path">The path through them.</param>
/// <param name="Map">The samples they are sums of.</param>
internal sealed record FreePath(BlockEvidence Evidence, BandPath Path, LikelihoodMap Map)
{
    public List<PathPoint> Points() => PathPoints.Sharpen(Map, Evidence, Path);
}
