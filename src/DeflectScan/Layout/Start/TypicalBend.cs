using DeflectScan.Geometry;

namespace DeflectScan.Layout.Start;

/// <summary>
/// A blank's bend before there is one to measure: pulled at its tip, with EI^(1/4), which is nearly straight in real blanks, falling evenly from the butt to
/// a quarter of it at the tip, until the tip turns by 75 degrees against the reel. Taper and turn are common practice without a source; the form follows from
/// them by the beam equation, the moment taken as growing evenly from the tip.
/// </summary>
internal static class TypicalBend
{
    private const double ButtOverTip = 4;
    private const double TipTurnRad = 75 * Math.PI / 180;
    private const double StepMm = 2;

    /// <param name="lengthMm">From the tip to the reel's front.</param>
    public static BlankShape Of(double lengthMm)
    {
        int n = (int)Math.Ceiling(lengthMm / StepMm);
        double h = lengthMm / n;
        double Form(double s) => s / Math.Pow(1 + ((ButtOverTip - 1) * s / lengthMm), 4);
        double whole = Enumerable.Range(0, n).Sum(i => Form((i + 0.5) * h)) * h;
        double angle = 0;
        Vec2 at = default;
        List<Vec2> points = [at];
        for (int i = 0; i < n; i++)
        {
            double turn = TipTurnRad * Form((i + 0.5) * h) * h / whole;
            at += new Vec2(Math.Cos(angle + (turn / 2)), Math.Sin(angle + (turn / 2))) * h;
            angle += turn;
            points.Add(at);
        }

        return BlankShape.Through(points, [.. points.Select(_ => 2.0)]);
    }
}
