using DeflectScan.Geometry;

namespace DeflectScan.Layout.Spacing;

/// <summary>
/// The places where a guide may stand, from the tip-top to the last held guide, over a finer sampling of the axis. Also where the
/// axis changes its sense of turning: between two such places the tangent's angle only grows or only falls.
/// </summary>
internal sealed class SpacingNodes
{
    private const double LargestSampleMm = 1.0;
    private const double MostTurnOfPieceRad = Math.PI / 2;

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
        AnglesRad = new double[Samples.Length];
        for (int i = 1; i < Samples.Length; i++)
        {
            Vec2 t = Samples[i - 1].Tangent;
            double turn = t.TurnTo(Samples[i].Tangent);
            AnglesRad[i] = AnglesRad[i - 1] + turn;
            LargestCurvature = Math.Max(LargestCurvature, Math.Abs(turn) / (Samples[i].S - Samples[i - 1].S));
        }

        PieceEnd = Pieces(AnglesRad);
    }

    /// <summary>Stations in mm, ascending from the tip-top's to the held guide's.</summary>
    public double[] Stations { get; }

    /// <summary>Index into <see cref="Samples"/> of each node.</summary>
    public int[] SampleOf { get; }

    public ShapeSample[] Samples { get; }

    /// <summary>Each sample's tangent against the first one's, unwrapped.</summary>
    public double[] AnglesRad { get; }

    /// <summary>1/mm, of either sense.</summary>
    public double LargestCurvature { get; }

    /// <summary>
    /// For each sample, the last sample of the piece that starts at it or runs through it: of one sense of turning, and of a quarter turn at most.
    /// </summary>
    public int[] PieceEnd { get; }

    private static int[] Pieces(double[] angles)
    {
        int[] end = new int[angles.Length];
        end[^1] = angles.Length - 1;
        int senseAfter = 0;
        for (int i = angles.Length - 2; i >= 0; i--)
        {
            int sense = Math.Sign(angles[i + 1] - angles[i]);
            bool goesOn = (sense == 0 || senseAfter == 0 || sense == senseAfter) && Math.Abs(angles[i] - angles[end[i + 1]]) < MostTurnOfPieceRad;
            end[i] = goesOn ? end[i + 1] : i + 1;
            senseAfter = sense != 0 ? sense : goesOn ? senseAfter : 0;
        }

        return end;
    }
}
