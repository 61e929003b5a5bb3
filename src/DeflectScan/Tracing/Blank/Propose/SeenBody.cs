using DeflectScan.Calibration;
using DeflectScan.Geometry;
using DeflectScan.Photos;
using DeflectScan.Tracing.Reading;

namespace DeflectScan.Tracing.Blank;

/// <summary>
/// The blank's body as the network sees it on the strip along a proposed bar: what lies farther from its outline than the network errs is an edge of something
/// else (gloss along the blank, a line, a shadow), and where no edge is seen it still says where the blank runs.
/// </summary>
/// <param name="bar">Its middle and half width from butt to tip.</param>
/// <param name="sure">Probability that it is seen, by even steps from butt to tip.</param>
internal sealed class SeenBody(TracedBar bar, IReadOnlyList<double> sure)
{
    /// <summary>
    /// How far an edge may lie from the outline that the network sees, mm. On 60 held-back scenes 90 in 100 of its middles lay within 0.5 mm and of its half
    /// widths within 0.6 mm, cell by cell; together, smoothed along the blank, they are off by more than this in 1 to 2 in 100 places.
    /// </summary>
    private const double GateMm = 0.9;

    /// <summary>
    /// What the network says counts so much beside an edge, that of a clear one being 1: 0.1 mm to 0.3 mm, squared, by 5 readings that err together (chosen).
    /// </summary>
    public const double Weight = 0.02;

    /// <summary>Knots of the curve through the body's middles and of its half widths, mm, and how stiff both are.</summary>
    private const double MiddleKnotMm = 50;
    private const double MiddleStiffness = 1;
    private const double HalfKnotMm = 200;
    private const double HalfStiffness = 10;
    private const double StepMm = 12;

    /// <summary>No tip is thinner than 1.2 mm (common practice, no source).</summary>
    private const double LeastHalfMm = 0.6;
    private const int FewestSeen = 12;

    /// <summary>Read so often at the most, till it moves by less than this, mm: half of what its cells are off at 99 in 100 places (docs/reader.md).</summary>
    private const int MostReadings = 5;
    private const double SettledMm = 0.5;

    /// <summary>Its middle and half width from butt to tip.</summary>
    public TracedBar Bar => bar;

    /// <summary>Probability that it is seen beside a place, rod-plane mm.</summary>
    public double Sure(Vec2 place)
    {
        double s = bar.Curve.Nearest(place).S;
        return s < 0 || s > bar.Length ? 0 : SureAt(s);
    }

    private double SureAt(double s) => sure[Math.Clamp((int)(s / bar.Length * sure.Count), 0, sure.Count - 1)];

    /// <summary>
    /// Along a proposed bar, butt to tip, read again along what was read until it stays where it is: beside something like it the network is drawn towards the
    /// strip's middle. Null where it sees no body.
    /// </summary>
    public static SeenBody? Settled(TracedBar proposed, UprightPhoto photo, RodPlane plane)
    {
        SeenBody? body = Along(proposed, photo, plane);
        for (int i = 1; i < MostReadings && body is { } last; i++)
        {
            body = Along(last.Bar, photo, plane);
            if (body is null || body.FarthestFrom(last.Bar) < SettledMm)
                break;
        }

        return body;
    }

    // How far it lies beside another bar at most where it is seen, mm.
    private double FarthestFrom(TracedBar other) =>
        Enumerable.Range(0, sure.Count).Where(i => sure[i] > 0.5).Max(i => (double?)Math.Abs(other.Curve.Nearest(bar.Curve.Point((i + 0.5) / sure.Count * bar.Length)).Offset)) ?? 0;

    private static SeenBody? Along(TracedBar proposed, UprightPhoto photo, RodPlane plane)
    {
        ArcCurve fromTip = proposed.Reversed().Curve;
        BlankAxis axis = new(fromTip, [0, fromTip.Length], [2, 12], [1, 1], [1, 1], fromTip.Length, 1);
        StripReading reading = StripReader.Read(photo.Bgr, plane, axis);
        List<BlankBody> seen = BlankBody.Of(reading).FindAll(b => b.Station > 0 && b.Station < proposed.Length);
        if (seen.Count < FewestSeen)
            return null;
        double[] at = [.. seen.Select(b => proposed.Length - b.Station)];
        double[] weights = [.. seen.Select(b => b.Sure * b.Sure)];

        // The curve from the tip has its normal on the other side.
        double[] middles = [.. seen.Select(b => -b.HeightMm * reading.Frame.InsideSign)];
        PenalisedSpline middle = PenalisedSpline.Fit(at, middles, weights, 0, proposed.Length, MiddleKnotMm, 3, MiddleStiffness);
        PenalisedSpline half = PenalisedSpline.Fit(at, [.. seen.Select(b => b.WidthMm / 2)], weights, 0, proposed.Length, HalfKnotMm, 3, HalfStiffness);
        int count = Math.Max(8, (int)(proposed.Length / StepMm));
        double[] s = [.. Enumerable.Range(0, count + 1).Select(i => proposed.Length * i / count)];
        ArcCurve curve = ArcCurve.Through([.. s.Select(x => proposed.Curve.Point(x) + (proposed.Curve.Normal(x) * middle.At(x)))]);
        double[] found = new double[count];
        for (int i = 0; i < at.Length; i++)
            found[Math.Min(count - 1, (int)(at[i] / proposed.Length * count))] = Math.Max(found[Math.Min(count - 1, (int)(at[i] / proposed.Length * count))], seen[i].Sure);
        return new SeenBody(new TracedBar(curve, [.. s.Select(x => Math.Max(LeastHalfMm, half.At(x)))]), found);
    }

    /// <summary>Offset of its middle from a place of another bar along that bar's normal, its half width there, mm, and the probability that it is seen.</summary>
    public (double Middle, double Half, double Sure) Beside(TracedBar other, double station)
    {
        Vec2 from = other.Curve.Point(station);
        (double s, _) = bar.Curve.Nearest(from);
        return ((bar.Curve.Point(s) - from).Dot(other.Curve.Normal(station)), bar.Radius(s), SureAt(s));
    }

    /// <summary>The readings without edges that are none of the body's.</summary>
    public List<BarStation> Gated(IReadOnlyList<BarStation> readings, TracedBar other) => [.. readings.Select(r =>
    {
        (double middle, double half, _) = Beside(other, r.S);
        return r with
        {
            Left = Math.Abs(r.Left - middle - half) < GateMm ? r.Left : double.NaN,
            Right = Math.Abs(r.Right - middle + half) < GateMm ? r.Right : double.NaN,
        };
    })];
}
