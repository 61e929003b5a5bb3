using DeflectScan.Geometry;

namespace DeflectScan.Layout.OnRings;

/// <summary>Which way the line runs through the rings while it is pulled.</summary>
public enum LineMotion
{
    /// <summary>It does not slip: friction left out, one pull all along.</summary>
    Still,

    /// <summary>Retrieved: every ring adds to the pull towards the reel.</summary>
    TowardReel,

    /// <summary>Taken by the fish: every ring takes some of the pull away towards the reel.</summary>
    TowardTip,
}

/// <summary>What the line does to one guide of a measured layout (or to the tip-top).</summary>
/// <param name="Ring">Index, 0 nearest to the reel.</param>
/// <param name="LineAngleDeg">The angle that the line turns through, not negative.</param>
/// <param name="PullReelwardN">Pull in the line on the reel's side of the ring.</param>
/// <param name="PullTipwardN">Pull on the tip's side.</param>
/// <param name="LoadN">Force on the ring.</param>
/// <param name="DirectionMm">Unit vector of that force in the rod plane; (0, 0) without load.</param>
/// <param name="Share">Part of the sum of all rings' loads, 0 to 1.</param>
/// <param name="IsKink">The line turns far more here than at the guides beside it.</param>
public sealed record GuideLoad(
    int Ring, double LineAngleDeg, double PullReelwardN, double PullTipwardN, double LoadN, Vec2 DirectionMm, double Share, bool IsKink);

/// <summary>How the line is pulled.</summary>
public sealed record LineLoadOptions
{
    /// <summary>Coefficient of friction of line on polished ceramic: 0.15, between 0.10 and 0.20 (common practice, no source).</summary>
    public const double TypicalFriction = 0.15;

    /// <summary>Pull in the line beyond the tip-top, N.</summary>
    public double PullN { get; init; } = 10;

    /// <summary>Coefficient of friction of the line on the rings, no unit.</summary>
    public double Friction { get; init; } = TypicalFriction;

    /// <summary>Which way the line runs.</summary>
    public LineMotion Motion { get; init; } = LineMotion.Still;

    /// <summary>Coefficient of friction of the line on the blank, where it lies on it; common practice, no source: that of the rings.</summary>
    public double FrictionOnBlank { get; init; } = TypicalFriction;

    /// <summary>A ring is a kink when its line angle exceeds its guides' mean on both sides by this factor …</summary>
    public double KinkFactor { get; init; } = 1.6;

    /// <summary>… and by this many degrees.</summary>
    public double KinkLeastDeg { get; init; } = 4;
}

/// <summary>Loads of the line on all rings.</summary>
/// <param name="Rings">From the reel to the tip-top; rings whose line angle is not known are left out.</param>
/// <param name="PullAtReelN">Pull on the reel's side of the first ring.</param>
/// <param name="FrictionFactor">Ratio of the pulls at both ends, 1 or more: e to the friction times the whole angle.</param>
public sealed record LineLoads(IReadOnlyList<GuideLoad> Rings, double PullAtReelN, double FrictionFactor)
{
    /// <summary>
    /// The loads: the resultant of the pulls on both sides of each ring, √(T1² + T2² − 2 T1 T2 cos θ), which is 2 T sin(θ/2) without friction;
    /// the pulls on a ring differ by e^(μθ) (Euler and Eytelwein).
    /// </summary>
    /// <param name="path">The line's path; where it lies on the blank it rubs there too.</param>
    /// <param name="options">Pull and friction.</param>
    /// <param name="lineFromMm">A point of the line before the first ring, if known.</param>
    /// <param name="lineToMm">A point of the line beyond the tip-top, if known.</param>
    public static LineLoads Of(LinePath path, LineLoadOptions options, Vec2? lineFromMm = null, Vec2? lineToMm = null)
    {
        int sign = options.Motion switch { LineMotion.TowardReel => 1, LineMotion.TowardTip => -1, _ => 0 };
        List<GuideLoad> loads = [];
        double pull = options.PullN;
        for (int i = path.Vertices.Count - 1; i >= 0; i--)
        {
            Vec2? from = i > 0 ? path.Vertices[i - 1].PointMm : lineFromMm;
            Vec2? to = i + 1 < path.Vertices.Count ? path.Vertices[i + 1].PointMm : lineToMm;
            if (from is not { } before || to is not { } after)
                continue;
            Vec2 into = (path.Vertices[i].PointMm - before).Normalized();
            Vec2 onward = (after - path.Vertices[i].PointMm).Normalized();
            double angle = Math.Abs(into.TurnTo(onward));
            double tipward = pull;
            pull *= Math.Exp(sign * angle * (path.Vertices[i].Ring is null ? options.FrictionOnBlank : options.Friction));
            Vec2 force = (onward * tipward) - (into * pull);
            if (path.Vertices[i].Ring is { } ring)
                loads.Add(new GuideLoad(ring, angle * 180 / Math.PI, pull, tipward, force.Length, force.Normalized(), 0, IsKink: false));
        }

        loads.Reverse();
        double sum = Math.Max(loads.Sum(l => l.LoadN), double.Epsilon);
        double ratio = options.PullN > 0 ? pull / options.PullN : 1;
        return new LineLoads(
            [.. loads.Select((l, i) => l with { Share = l.LoadN / sum, IsKink = IsKink(loads, i, options) })], pull, Math.Max(ratio, 1 / ratio));
    }

    /// <summary>The tip-top never counts, neither as a kink nor as a neighbour: the line hangs from it at whatever angle the fish stands.</summary>
    private static bool IsKink(List<GuideLoad> loads, int i, LineLoadOptions options)
    {
        if (i == loads.Count - 1 || loads.Count < 3)
            return false;
        List<double> beside = [];
        if (i > 0)
            beside.Add(loads[i - 1].LineAngleDeg);
        if (i + 1 < loads.Count - 1)
            beside.Add(loads[i + 1].LineAngleDeg);
        if (beside.Count == 0)
            return false;
        double mean = beside.Average();
        return loads[i].LineAngleDeg > mean * options.KinkFactor && loads[i].LineAngleDeg > mean + options.KinkLeastDeg;
    }
}
