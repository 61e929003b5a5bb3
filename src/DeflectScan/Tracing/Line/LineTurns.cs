using DeflectScan.Geometry;
using DeflectScan.Numerics;
using DeflectScan.Tracing.Reading;

namespace DeflectScan.Tracing.Line;

/// <summary>
/// What the fitted line says of a ring: a taut line turns in rings alone, the way the blank bends, and runs straight from one to the next. Log-odds,
/// chosen so that no line outweighs a plain reading: a ring that the line touches without turning, or turning for another reason, is rare but possible.
/// </summary>
/// <param name="axis">The blank.</param>
/// <param name="insideSign">+1 where the axis' normal points to the inside of the bend, so that the line turns to it.</param>
/// <param name="vertices">The line's vertices, tip to reel, rod-plane mm.</param>
/// <param name="windows">What was seen of each segment.</param>
/// <param name="kinds">What the vertices are.</param>
/// <param name="explains">Log-odds by which the picture is explained better by a line that runs through a ring there than by one that does not.</param>
internal sealed class LineTurns(BlankAxis axis, double insideSign, IReadOnlyList<Vec2> vertices, IReadOnlyList<List<LineWindow>> windows, IReadOnlyList<LineVertex> kinds, Func<RingCandidate, double> explains)
{
    /// <summary>A segment speaks where this share of its windows, and so many of them, show the line.</summary>
    private const double LeastShare = 0.6;
    private const int LeastShown = 4;

    /// <summary>A turn for another reason, and a ring without one, once in a hundred; a ring beside the line once in a thousand (all chosen). A ring on its straight way need not turn it.</summary>
    private const double Turns = 4.6;
    private const double NoTurn = -4.6;
    private const double StraightThrough = -4.6;
    private const double OffTheLine = -6.9;

    /// <summary>A place this likely is tried with and without its ring, and what that explains of the picture counts up to the second, somewhat more than a plain reading (chosen).</summary>
    private const double LeastTried = -6;
    private const double MostExplained = 12;

    /// <summary>
    /// So much of that counts: samples along a line repeat each other, and texture alone explains up to 5 on rendered photographs where a plain line explains
    /// 60 to 300.
    /// </summary>
    private const double Trust = 0.1;

    /// <summary>A way through a further ring that explains this much more, log-odds, is believed against a straight piece that seems to be seen.</summary>
    private const double PlainlyBetter = 2;

    /// <summary>A turn is one where it is this many standard deviations, and this large, radians; less than the others is none.</summary>
    private const double PlainSds = 5;
    private const double PlainRad = 0.006;
    private const double NoSds = 2;
    private const double NoRad = 0.003;

    /// <summary>The least that is believed of a segment's direction, radians.</summary>
    private const double LeastSdRad = 0.0008;

    /// <summary>A line this far from a place does not touch a ring there, mm, or share of its height: a tall guide's ring is wide, and may be read at its other rim or between (chosen).</summary>
    private const double AsideMm = 3;
    private const double AsideShare = 0.2;

    private const double SameMm = 12;

    /// <summary>Log-odds that the line adds to a place's being a guide.</summary>
    public double Of(RingCandidate place)
    {
        int at = Enumerable.Range(0, vertices.Count).FirstOrDefault(i => kinds[i].Ring is { } r && Math.Abs(r.Station - place.Station) < SameMm, -1);
        if (at >= 0)
            return at == 0 || at >= vertices.Count - 1 || (at == 1 && kinds[0] == LineVertex.End) ? 0 : InUse(at, place);
        for (int i = 0; i + 1 < vertices.Count; i++)
        {
            double from = axis.Curve.Nearest(vertices[i]).S;
            double to = axis.Curve.Nearest(vertices[i + 1]).S;
            if (place.Station < from || place.Station > to)
                continue;
            double tried = Tried(place, least: 0, most: MostExplained);
            if (tried > PlainlyBetter || !Speaks(i))
                return tried;
            if (!IsOn(vertices[i], vertices[i + 1], place))
                return OffTheLine;
            bool isRoom = kinds[i].Ring is null || kinds[i + 1].Ring is null
                || RingRoom.At(axis, place.HeightMm > 0 ? insideSign : -insideSign, place.HeightMm > 0, vertices[i], vertices[i + 1], place.Station);
            return isRoom ? tried : StraightThrough;
        }

        return 0;
    }

    // A line that is seen not to turn speaks against a ring that was read beside its straight way: one that was read on it, as where the stiff butt hardly
    // bends, does not turn the line. One that turns speaks for the ring, and so does all that it explains.
    private double InUse(int at, RingCandidate place)
    {
        double? turn = AtVertex(at);
        bool on = IsOn(vertices[at - 1], vertices[at + 1], place);
        if (turn <= 0)
            return on ? 0 : turn.Value;
        return Math.Max(turn ?? -MostExplained, Tried(place, least: on ? 0 : -MostExplained, most: MostExplained));
    }

    // Whether the straight way between two vertices touches a ring that was read there.
    private bool IsOn(Vec2 tipwards, Vec2 reelwards, RingCandidate place)
    {
        double from = axis.Curve.Nearest(tipwards).S;
        Vec2 on = Vec2.Lerp(tipwards, reelwards, (place.Station - from) / (axis.Curve.Nearest(reelwards).S - from));
        return Math.Abs((axis.Curve.Nearest(on, place.Station).Offset * insideSign) - place.HeightMm) < Math.Max(AsideMm, AsideShare * Math.Abs(place.HeightMm));
    }

    // A line that is seen speaks for itself; where it is hardly seen, whole ways with and without the ring are compared.
    private double Tried(RingCandidate place, double least, double most) => place.LogOdds > LeastTried ? Math.Clamp(Trust * explains(place), least, most) : 0;

    private double? AtVertex(int i)
    {
        if (!Speaks(i - 1) || !Speaks(i))
            return null;
        Vec2 before = (vertices[i] - vertices[i - 1]).Normalized();
        Vec2 after = (vertices[i + 1] - vertices[i]).Normalized();
        double turn = Math.Asin(Math.Clamp(before.Cross(after), -1, 1)) * insideSign;
        double sd = Math.Sqrt(Variance(i - 1) + Variance(i));
        if (turn > Math.Max(PlainRad, PlainSds * sd))
            return Turns;
        return turn < Math.Max(NoRad, NoSds * sd) && sd < NoRad ? NoTurn : 0;
    }

    private bool Speaks(int segment)
    {
        List<LineWindow> of = windows[segment];
        int shown = LineDoubts.Shown(of);
        return shown >= LeastShown && shown > LeastShare * of.Count;
    }

    // Direction of a straight line through n equally spaced places of one standard deviation over a length: sd sqrt(12 / n) / length.
    private double Variance(int segment)
    {
        LineWindow[] shown = [.. windows[segment].Where(w => w.Evidence > LineDoubts.SeenEvidence)];
        double sd = OrderStatistics.Middle(shown.Select(w => w.SdMm));
        double length = vertices[segment].DistanceTo(vertices[segment + 1]);
        return (12 * sd * sd / (shown.Length * length * length)) + (LeastSdRad * LeastSdRad);
    }
}
