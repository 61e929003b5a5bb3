using DeflectScan.Geometry;

namespace DeflectScan.Layout.Spacing;

/// <summary>
/// The places where a guide may stand, from the tip-top to the last held guide, over a finer sampling of the axis. Also where the
/// axis changes its sense of turning: between two such places the tangent's angle only grows or only falls.
/// </summary>
internal sealed class SpacingNodes
{
    private const double LargestSampleMm = 1.0;

    public SpacingNodes(BlankShape shape, RunningSpan span, SpacingOptions options)
    {
        List<double> nodes = [span.TipMm];
        long first = (long)Math.Floor(span.TipMm / options.GridMm) + 1;
        for (long k = first; k * options.GridMm < span.HeldMm; k++)
        {
            double s = k * options.GridMm;
            bool near = s - span.TipMm < options.LeastSpacingMm - 1e-9 || span.HeldMm - s < options.LeastSpacingMm - 1e-9;
            if (!near && !options.Forbidden.Any(z => z.Holds(s)))
                nodes.Add(s);
        }

        nodes.Add(span.HeldMm);
        Stations = [.. nodes];
        SampleOf = new int[Stations.Length];
        List<ShapeSample> samples = [shape.At(Stations[0])];
        for (int i = 1; i < Stations.Length; i++)
        {
            double from = Stations[i - 1];
            double step = Stations[i] - from;
            int parts = Math.Max(1, (int)Math.Ceiling((step / LargestSampleMm) - 1e-9));
            for (int k = 1; k <= parts; k++)
                samples.Add(shape.At(k == parts ? Stations[i] : from + (step * k / parts)));
            SampleOf[i] = samples.Count - 1;
        }

        Samples = [.. samples];
        (PieceEnd, TotalTurnRad) = Pieces(Samples);
    }

    /// <summary>
    /// The last sample up to which the axis from a sample on is a convex arc that turns by less than a right angle: over such an arc
    /// a longer chord always bows more.
    /// </summary>
    public int ConvexEnd(int sample)
    {
        Vec2 start = Samples[sample].Tangent;
        int lo = sample, hi = PieceEnd[sample];
        if (TotalTurnRad < Math.PI && start.Dot(Samples[hi].Tangent) > 0)
            return hi;
        while (TotalTurnRad < Math.PI && hi - lo > 1)
        {
            int middle = (lo + hi) >> 1;
            if (start.Dot(Samples[middle].Tangent) > 0)
                lo = middle;
            else
                hi = middle;
        }

        return lo;
    }

    /// <summary>Stations in mm, ascending from the tip-top's to the held guide's.</summary>
    public double[] Stations { get; }

    /// <summary>Index into <see cref="Samples"/> of each node.</summary>
    public int[] SampleOf { get; }

    public ShapeSample[] Samples { get; }

    /// <summary>For each sample, the last sample of the piece of one sense of turning that starts at it or runs through it.</summary>
    public int[] PieceEnd { get; }

    /// <summary>Sum of the absolute turning over the whole span.</summary>
    public double TotalTurnRad { get; }

    private static (int[] PieceEnd, double TotalTurnRad) Pieces(ShapeSample[] samples)
    {
        int[] end = new int[samples.Length];
        double total = 0;
        end[^1] = samples.Length - 1;
        int senseAfter = 0;
        for (int i = samples.Length - 2; i >= 0; i--)
        {
            Vec2 t = samples[i].Tangent;
            Vec2 next = samples[i + 1].Tangent;
            double cross = t.Cross(next);
            total += Math.Abs(Math.Atan2(cross, t.Dot(next)));
            int sense = Math.Sign(cross);
            bool goesOn = sense == 0 || senseAfter == 0 || sense == senseAfter;
            end[i] = goesOn ? end[i + 1] : i + 1;
            senseAfter = sense != 0 ? sense : goesOn ? senseAfter : 0;
        }

        return (end, total);
    }
}
