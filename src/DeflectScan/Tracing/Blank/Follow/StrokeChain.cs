using DeflectScan.Geometry;
using DeflectScan.Numerics;

namespace DeflectScan.Tracing.Blank;

/// <summary>Strokes in order from butt to tip that could be one blank, and how far they look like one.</summary>
internal sealed class StrokeChain
{
    private readonly IReadOnlyList<int> _ids;

    public StrokeChain(IReadOnlyList<BarStroke> strokes, IReadOnlyList<int> ids, int bend, bool mayBeStraight)
    {
        Strokes = strokes;
        _ids = ids;
        Bend = bend;
        StrokesMm = strokes.Sum(s => s.LengthMm);
        List<Vec2> points = [];
        List<double> widths = [];
        foreach (BarStroke s in strokes)
        {
            for (int i = 0; i < s.PointsMm.Count; i++)
            {
                // Where two strokes overlap, the later one's points behind the earlier one's end are left out.
                if (points.Count > 0 && (s.PointsMm[i] - points[^1]).Dot(s.StartDirection) < 1)
                    continue;
                points.Add(s.PointsMm[i]);
                widths.Add(s.WidthsMm[i]);
            }
        }

        PointsMm = points;
        WidthsMm = widths;
        for (int i = 1; i < points.Count; i++)
            LengthMm += points[i].DistanceTo(points[i - 1]);
        Turn = strokes.Sum(s => s.Turn) + Enumerable.Range(1, strokes.Count - 1).Sum(i =>
            BarStroke.TurnBetween(strokes[i - 1].EndDirection, strokes[i].StartDirection));
        int third = Math.Max(1, widths.Count / 4);
        ButtWidthMm = OrderStatistics.Middle(widths.Take(third));
        TipWidthMm = OrderStatistics.Middle(widths.Skip(widths.Count - third));
        Contrast = strokes.Sum(s => s.Contrast * s.LengthMm) / StrokesMm;
        (Score, Promise) = Rate(mayBeStraight);
    }

    public IReadOnlyList<BarStroke> Strokes { get; }

    /// <summary>+1: turns counter-clockwise (y up) from butt to tip, -1: clockwise.</summary>
    public int Bend { get; }

    public double StrokesMm { get; }

    public IReadOnlyList<Vec2> PointsMm { get; }

    public IReadOnlyList<double> WidthsMm { get; }

    public double LengthMm { get; }

    /// <summary>Radians, counter-clockwise positive.</summary>
    public double Turn { get; }

    /// <summary>Median width over the quarter next to the butt.</summary>
    public double ButtWidthMm { get; }

    public double TipWidthMm { get; }

    public double Contrast { get; }

    /// <summary>Millimetres of well-seen, tapering, bending bar; 0 or less for what cannot be a blank.</summary>
    public double Score { get; }

    /// <summary>
    /// The same but for its widths: what it would score if it tapered like a blank. Of a glossy bar the small picture may show but a thread of
    /// gloss or shade, as wide at the tip as at the handle.
    /// </summary>
    public double Promise { get; }

    public double SharedMm(StrokeChain other) =>
        Strokes.Where((_, i) => other._ids.Contains(_ids[i])).Sum(s => s.LengthMm);

    private (double Score, double Promise) Rate(bool mayBeStraight)
    {
        if (LengthMm < 300)
            return (0, 0);
        double taper = Math.Clamp((Math.Log(ButtWidthMm / TipWidthMm) - 0.25) / 0.6, 0, 1);
        double thick = Math.Clamp((ButtWidthMm - 3) / 2, 0, 1);
        double bent = mayBeStraight ? 1 : Math.Clamp(((Bend * Turn) - 0.1) / 0.25, 0, 1);
        double seen = StrokesMm * Math.Min(1.5, Math.Sqrt(Contrast / 30));
        double gaps = 0.5 * Math.Max(0, LengthMm - StrokesMm);
        double promise = (0.1 + (0.9 * bent)) * seen;
        return (((0.1 + (0.9 * taper)) * (0.1 + (0.9 * thick)) * promise) - gaps, promise - gaps);
    }
}
