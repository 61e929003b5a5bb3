using DeflectScan.Geometry;
using DeflectScan.Tracing.Line.Outside;

namespace DeflectScan.Tracing.Line;

/// <summary>What stands on the blank at a corner of the line.</summary>
/// <param name="Likeness">How like the rod's other guides it looks, -1 to 1.</param>
/// <param name="OffsetMm">Where along the blank it looks most like them, from the corner; null where it is not like them.</param>
/// <param name="Cover">Share of the height between blank and line, 0 to 1, at which something stands nearby; null where there is no room to tell.</param>
internal sealed record CornerSupport(double Likeness, double? OffsetMm, double? Cover)
{
    /// <summary>How well the look of a guide tells its ring's place along the blank, mm.</summary>
    public double OffsetSdMm { get; init; }

    /// <summary>Whether the offset is that of one look from another, so that an error of all of them together is not in it.</summary>
    public bool IsOfLooks { get; init; }

    /// <summary>Whether it is plainly of the usual kind.</summary>
    public bool IsUsual { get; init; }
}

/// <summary>Looks for guides on the blank: at the line's corners, and where the line has none.</summary>
internal sealed class RingSupport
{
    /// <summary>Share of the usual likeness above which a guide is of the usual kind, so that its look tells its place.</summary>
    private const double AlikeShare = 0.85;

    /// <summary>Down to this share a guide in a busy place may still be of the usual kind: its look tells its place less well.</summary>
    private const double HalfAlikeShare = 0.5;
    private const double HalfAlikeSdMm = 0.6;
    private const double SdPerShareMm = 4;

    /// <summary>How well the look of a guide of the usual kind tells its ring's place beside the others', mm, without noise; and with as much noise as guide.</summary>
    private const double OwnLookSdMm = 0.09;
    private const double NoisyLookSdMm = 0.5;

    /// <summary>By how much of its height a guide of the usual kind may stand higher or lower than the others.</summary>
    private const double HeightShare = 0.12;

    /// <summary>Share of the height up to the line at which something must stand at a guide; and still, with what crosses behind the blank taken out.</summary>
    private const double StandingCover = 0.8;
    private const double OwnCover = 0.3;

    /// <summary>Share of the guides with a wrap that shows from which on all have one.</summary>
    private const double WrapsShowShare = 0.6;

    /// <summary>Two signs of a wrap nearer than this are one, mm.</summary>
    private const double LeastApartMm = 15;

    private const double NearMm = 7;
    private const double CoverReachMm = 16;
    private const double CoverReachShare = 0.95;

    private readonly BlankAxis _axis;
    private readonly BandStrip _strip;
    private readonly ForegroundMap _map;
    private readonly ForegroundMap _oneSided;
    private readonly GuideLook _guides;
    private readonly float[]? _look;
    private readonly double _usualHeightMm;

    /// <param name="axis">The blank.</param>
    /// <param name="strip">The band on the guides' side.</param>
    /// <param name="map">What stands out in it.</param>
    /// <param name="wellPlaced">Ring points of running guides whose place along the blank the line's turn tells well.</param>
    public RingSupport(BlankAxis axis, BandStrip strip, ForegroundMap map, IReadOnlyList<Vec2> wellPlaced)
    {
        _axis = axis;
        _strip = strip;
        _map = map;
        _oneSided = RunsBehind.Cleared(map);
        _guides = new GuideLook(map);
        List<double> columns = [.. wellPlaced.Select(Column)];
        _look = _guides.Learn(columns);
        if (_look is null || columns.Count < 3)
        {
            Usual = columns.Count;
            return;
        }

        // The guide that most others are like, and those; then those that are unlike their mean go: they are another kind.
        columns = Alike(columns);
        _look = _guides.Learn(columns)!;

        for (int pass = 0; pass < 3; pass++)
        {
            float[] look = _look;
            double[] likeness = [.. columns.Select(c => _guides.Likeness(look, (int)Math.Round(c)))];
            double most = likeness.Max();
            List<double> alike = [.. columns.Where((_, i) => likeness[i] > 0.82 * most)];
            if (alike.Count < 2 || alike.Count == columns.Count)
                break;
            columns = alike;
            _look = _guides.Learn(columns)!;
        }

        Usual = columns.Count;
        double[] heights = [.. wellPlaced.Where(p => columns.Contains(Column(p))).Select(p => Math.Abs(axis.Curve.Nearest(p).Offset)).Order()];
        _usualHeightMm = heights[heights.Length / 2];
        double[] usual = [.. columns.Select(c => _guides.Likeness(_look, (int)Math.Round(c))).Order()];
        UsualLikeness = usual[usual.Length / 2];
        double[] standing = [.. columns.Select(c => _guides.Likeness(_look, (int)Math.Round(c), axis.RadiusMm(strip.Station(c)) + 1)).Order()];
        UsualStanding = Math.Max(0.2, standing[standing.Length / 2]);
    }

    /// <summary>How many guides the look was learnt from.</summary>
    public int Usual { get; }

    /// <summary>Median likeness of the guides the look was learnt from; 0 where there were too few.</summary>
    public double UsualLikeness { get; }

    /// <summary>The same of what stands above the blank alone.</summary>
    private double UsualStanding { get; } = 1;

    /// <param name="corner">A corner of the line.</param>
    /// <param name="standing">The ring that is known to stand there; null: none is.</param>
    public CornerSupport At(Vec2 corner, StandingRing? standing = null)
    {
        double column = Column(corner);
        (double s, double offset) = _axis.Curve.Nearest(corner);
        double likeness = 0;
        double? place = null;
        double sd = 0;
        bool usual = false;
        if (_look is not null && UsualLikeness > 0)
        {
            (double peak, likeness) = Peak(column);
            double lacking = Math.Max(0, AlikeShare - (likeness / UsualLikeness));
            if (lacking < AlikeShare - HalfAlikeShare && Math.Abs(Math.Abs(offset) - _usualHeightMm) < HeightShare * _usualHeightMm)
            {
                place = (peak - column) * _strip.StepMm;
                usual = lacking == 0;
                sd = usual ? LookSdMm(column, peak, likeness, _axis.RadiusMm(s)) : HalfAlikeSdMm + (SdPerShareMm * lacking);
            }
        }

        bool ofLooks = place is not null;
        if (!usual && standing is not null)
            (place, sd, ofLooks) = (standing.Station - s, OutsideVertex.PlaceSdMm(standing), false);
        return new CornerSupport(likeness, place, Cover(_map, column, Math.Abs(offset), _axis.RadiusMm(s))) { OffsetSdMm = sd, IsOfLooks = ofLooks, IsUsual = usual };
    }

    /// <summary>Stations, with their share of the usual likeness (of the whole and of what stands above the blank, the lesser), that look like the rod's guides, between two stations.</summary>
    public List<(double Station, double Share)> Others(double fromStation, double toStation)
    {
        List<(double, double)> found = [];
        if (_look is null || UsualLikeness <= 0)
            return found;
        int from = Math.Max(0, (int)_strip.ColumnOf(fromStation));
        int to = Math.Min(_strip.Columns - 1, (int)_strip.ColumnOf(toStation));
        int reach = (int)(NearMm / _strip.StepMm);
        double[] likeness = new double[_strip.Columns];
        Parallel.For(from, to + 1, c => likeness[c] = _guides.Likeness(_look, c));
        for (int c = from + 1; c < to; c++)
        {
            bool top = likeness[c] > 0.4;
            for (int k = Math.Max(from, c - reach); top && k <= Math.Min(to, c + reach); k++)
                top = likeness[k] <= likeness[c];
            if (!top)
                continue;
            double s = _strip.Station(c);
            double standing = _guides.Likeness(_look, c, _axis.RadiusMm(s) + 1) / UsualStanding;
            found.Add((s, Math.Min(likeness[c] / UsualLikeness, standing + 0.1)));
        }

        return found;
    }

    /// <summary>
    /// Stations where something is wound on the blank and something stands between blank and line, as at a guide of any kind.
    /// </summary>
    /// <param name="fromStation">From.</param>
    /// <param name="toStation">To.</param>
    /// <param name="heightAt">Height of the line at a station, mm.</param>
    /// <param name="foundTogether">Line and rings were found together: then only a wrap's colour counts, not its thickness, and what crosses behind it counts, too.</param>
    public List<double> Standing(double fromStation, double toStation, Func<double, double> heightAt, bool foundTogether)
    {
        int from = Math.Max(0, (int)_strip.ColumnOf(fromStation));
        int to = Math.Min(_strip.Columns - 1, (int)_strip.ColumnOf(toStation));
        List<double> found = [];
        IEnumerable<double> wraps = WrapLook.Coloured(_map, from, to);
        foreach (double s in (foundTogether ? wraps : wraps.Concat(WrapLook.Thick(_map, from, to))).Order())
        {
            double height = heightAt(s);
            if (found.Count > 0 && s - found[^1] < LeastApartMm)
                continue;
            if (Cover(_map, _strip.ColumnOf(s), height, _axis.RadiusMm(s)) > StandingCover
                && (foundTogether || Cover(_oneSided, _strip.ColumnOf(s), height, _axis.RadiusMm(s)) > OwnCover))
                found.Add(s);
        }

        return found;
    }

    /// <summary>Station of the ring on the line near something that is wound on the blank; null where none is plainly seen.</summary>
    /// <param name="wrapStation">Where it is wound.</param>
    /// <param name="heightAt">Height of the line at a station, mm.</param>
    /// <param name="isPair">Two wraps near each other are those of a guide with two feet, whatever crosses behind it.</param>
    public double? RingNear(double wrapStation, Func<double, double> heightAt, bool isPair) =>
        RingOnLine.Find(_map, isPair ? _map : _oneSided, wrapStation, heightAt);

    /// <summary>
    /// Stations of what looks like a ring up to the line, between two stations, where a guide's wraps may be there without showing: not on a
    /// rod whose guides show theirs by their colour, and on one whose guides show theirs by thickness only where the blank looks a little thicker.
    /// </summary>
    /// <param name="fromStation">From.</param>
    /// <param name="toStation">To.</param>
    /// <param name="heightAt">Height of the line at a station, mm.</param>
    /// <param name="guideStations">The guides found.</param>
    /// <param name="reachMm">How far from its ring a guide's wrap may lie.</param>
    public List<double> Strokes(double fromStation, double toStation, Func<double, double> heightAt, IReadOnlyList<double> guideStations, double reachMm)
    {
        double[] coloured = [.. WrapLook.Coloured(_map, 0, _strip.Columns - 1)];
        bool Show(double[] wraps) => guideStations.Count(s => wraps.Any(w => Math.Abs(w - s) < reachMm)) > WrapsShowShare * guideStations.Count;
        if (Show(coloured))
            return [];
        bool showByThickness = Show([.. coloured, .. WrapLook.Thick(_map, 0, _strip.Columns - 1)]);
        return [.. StrokesOnLine.Find(_map, _oneSided, fromStation, toStation, heightAt).Where(s => !showByThickness || HasFaintWrap(s))];

        // Not one that belongs to a guide found.
        bool HasFaintWrap(double s) => WrapLook.IsFaintBetween(
            _map,
            guideStations.Where(g => g < s).Select(g => g + reachMm).Append(s - reachMm).Max(),
            guideStations.Where(g => g > s).Select(g => g - reachMm).Append(s + reachMm).Min());
    }

    /// <summary>
    /// A look is guide and background: a likeness (correlation) of r with the usual look leaves 1/r² - 1 of other things' power over the guide's own.
    /// On rendered photographs the place of the best likeness scatters with it. Where what stands above the blank says another place
    /// than the whole, half of the difference is uncertain, too.
    /// </summary>
    private double LookSdMm(double column, double peak, double likeness, double radiusMm)
    {
        double others = NoisyLookSdMm * ((1 / Math.Min(1, likeness * likeness)) - 1);
        double apart = (Peak(column, radiusMm + 1).Column - peak) * _strip.StepMm / 2;
        return Math.Sqrt((OwnLookSdMm * OwnLookSdMm) + (others * others) + (apart * apart));
    }

    private List<double> Alike(List<double> columns)
    {
        List<double> most = columns;
        double best = double.MinValue;
        foreach (double column in columns)
        {
            if (_guides.Learn([column]) is not { } one)
                continue;
            double[] likeness = [.. columns.Select(c => _guides.Likeness(one, (int)Math.Round(c)))];
            if (likeness.Sum() <= best)
                continue;
            best = likeness.Sum();
            most = [.. columns.Where((_, i) => likeness[i] > 0.5)];
        }

        return most;
    }

    private double Column(Vec2 point) => _strip.ColumnOf(_axis.Curve.Nearest(point).S);

    private (double Column, double Likeness) Peak(double column, double aboveMm = double.MinValue)
    {
        int reach = (int)(NearMm / _strip.StepMm);
        int centre = (int)Math.Round(column);
        double[] values = [.. Enumerable.Range(centre - reach - 1, (2 * reach) + 3).Select(c => _guides.Likeness(_look!, c, aboveMm))];
        int best = 1;
        for (int i = 1; i < values.Length - 1; i++)
        {
            if (values[i] > values[best])
                best = i;
        }

        double bend = (2 * values[best]) - values[best - 1] - values[best + 1];
        double between = bend > 0 ? Math.Clamp((values[best + 1] - values[best - 1]) / (2 * bend), -0.5, 0.5) : 0;
        return (centre - reach - 1 + best + between, values[best]);
    }

    private double? Cover(ForegroundMap map, double column, double heightMm, double radiusMm)
    {
        int low = (int)map.RowOf(radiusMm + 1.5);
        int high = Math.Min(map.Rows - 1, (int)map.RowOf(heightMm - 1.5));
        if (high - low < 3)
            return null;
        int reach = (int)(Math.Max(CoverReachMm, CoverReachShare * heightMm) / _strip.StepMm);
        int from = Math.Max(0, (int)column - reach);
        int to = Math.Min(_strip.Columns - 1, (int)column + reach);
        int covered = 0;
        for (int row = low; row <= high; row++)
        {
            float most = 0;
            for (int c = from; c <= to; c++)
                most = Math.Max(most, map.Column(c)[row]);
            if (most > 0.5f)
                covered++;
        }

        return covered / (double)(high - low + 1);
    }
}
