using DeflectScan.Calibration;
using DeflectScan.Geometry;

namespace DeflectScan.Tracing.Blank;

/// <summary>A person's marks in the rod plane: they choose among bars, and with three or more they start one.</summary>
internal sealed class AxisMarks
{
    private const double NearMm = 8; // a click on the blank lies this near its centreline
    private const double EndNearMm = 40; // a click on an end may lie beyond what is seen of the bar

    private readonly IReadOnlyList<Vec2> _onBlank;

    private AxisMarks(IReadOnlyList<Vec2> onBlank, Vec2? tip, Vec2? butt)
    {
        _onBlank = onBlank;
        TipMm = tip;
        ButtMm = butt;
    }

    /// <summary>Whether there is any mark.</summary>
    public bool Any => _onBlank.Count > 0 || TipMm is not null || ButtMm is not null;

    public Vec2? TipMm { get; }

    public Vec2? ButtMm { get; }

    public static AxisMarks Of(RodPlane plane, AxisOptions options) => new(
        [.. options.BlankMarksPx.Select(plane.ToPlane)],
        options.TipMarkPx is { } tip ? plane.ToPlane(tip) : null,
        options.ButtMarkPx is { } butt ? plane.ToPlane(butt) : null);

    /// <summary>Whether a bar runs through all marks.</summary>
    public bool Fit(TracedBar bar) =>
        _onBlank.All(m => Near(bar, m, NearMm, EndNearMm))
        && (TipMm is not { } tip || Near(bar, tip, 2 * NearMm, 3 * EndNearMm))
        && (ButtMm is not { } butt || Near(bar, butt, 2 * NearMm, 3 * EndNearMm));

    /// <summary>A first bar through the marks, butt to tip, where both ends and one point between are marked.</summary>
    public TracedBar? Start()
    {
        if (TipMm is not { } tip || ButtMm is not { } butt || _onBlank.Count == 0)
            return null;
        Vec2 chord = (tip - butt).Normalized();
        List<Vec2> points = [butt, .. _onBlank.OrderBy(m => (m - butt).Dot(chord)), tip];
        ArcCurve curve = ArcCurve.Through(points);
        ArcCurve fine = curve.Part(0, curve.Length, 16);
        // A blank of common proportions to begin with (common practice, no source): 12 mm at the handle, 2 mm at the tip.
        return new TracedBar(fine, [.. fine.KnotStations.Select(s => 6 - (5 * s / fine.Length))]);
    }

    private static bool Near(TracedBar bar, Vec2 mark, double across, double beyond)
    {
        (double s, double offset) = bar.Curve.Nearest(mark);
        return Math.Abs(offset) < across + bar.Radius(s) && s > -beyond && s < bar.Length + beyond;
    }
}
