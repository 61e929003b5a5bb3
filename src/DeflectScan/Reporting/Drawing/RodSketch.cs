using DeflectScan.Geometry;
using SkiaSharp;

namespace DeflectScan.Reporting.Drawing;

/// <summary>A measurement's rod on the canvas: photo px scaled and moved, with the blank's points and its outward side by station.</summary>
internal sealed class RodSketch
{
    private readonly Measurement _measurement;
    private readonly double _scale;
    private readonly double _topPx;
    private readonly IReadOnlyList<AxisSample> _samples;
    private readonly double _outwardSign;

    /// <param name="measurement">Its Blank must not be null.</param>
    /// <param name="scale">Canvas px of one photo px.</param>
    /// <param name="topPx">Canvas y of the photo's upper edge.</param>
    public RodSketch(Measurement measurement, double scale, double topPx)
    {
        _measurement = measurement;
        _scale = scale;
        _topPx = topPx;
        _samples = measurement.Blank?.Axis ?? [];
        Axis = [.. _samples.Select(p => OnCanvas(p.Px))];
        if (Axis.Count < 2)
            return;
        Vec2 bulge = Axis[Axis.Count / 2] - Vec2.Lerp(Axis[0], Axis[^1], 0.5);
        _outwardSign = Normal(_samples[_samples.Count / 2].SMm).Dot(bulge) >= 0 ? 1 : -1;
    }

    /// <summary>The centreline from the tip on, canvas px; empty where no blank was traced.</summary>
    public IReadOnlyList<Vec2> Axis { get; }

    /// <summary>The centreline by itself for drawing.</summary>
    public SKPoint[] AxisPoints => [.. Axis.Select(p => p.ToSk())];

    /// <summary>From photo px to canvas px; a photo's pixel has its centre at whole numbers, the canvas's at halves.</summary>
    public Vec2 OnCanvas(Vec2 photoPx) => new((photoPx.X + 0.5) * _scale, ((photoPx.Y + 0.5) * _scale) + _topPx);

    /// <summary>The blank's centre at a station, canvas px.</summary>
    public Vec2 Point(double s)
    {
        (int i, double t) = Between(s);
        return Vec2.Lerp(Axis[i], Axis[i + 1], t);
    }

    /// <summary>The blank's radius at a station, canvas px.</summary>
    public double Radius(double s)
    {
        (int i, double t) = Between(s);
        double pxPerMm = (Axis[i + 1] - Axis[i]).Length / Math.Max(1e-9, _samples[i + 1].SMm - _samples[i].SMm);
        double diameterMm = _samples[i].DiameterMm + (t * (_samples[i + 1].DiameterMm - _samples[i].DiameterMm));
        return diameterMm / 2 * pxPerMm;
    }

    /// <summary>Unit vector away from the hollow of the bend at a station.</summary>
    public Vec2 Outward(double s) => Normal(s) * _outwardSign;

    public Vec2 Ring(int guide) => OnCanvas(_measurement.Guides[guide - 1].RingPx);

    /// <summary>Both ends of a pair's largest gap: on the blank's surface and on the line.</summary>
    public (Vec2 OnBlank, Vec2 OnLine) GapEnds(IntervalReport interval) => Across(interval, interval.GapAtMm);

    /// <summary>The blank's centre where a guide stands.</summary>
    public Vec2 OnAxis(int guide) => Point(_measurement.Guides[guide - 1].StationMm);

    /// <summary>From the blank's surface at a station square to the line between two rings.</summary>
    public (Vec2 OnBlank, Vec2 OnLine) Across(IntervalReport interval, double s)
    {
        (Vec2 a, Vec2 b) = (Ring(interval.From), Ring(interval.To));
        (Vec2 q, Vec2 n) = (Point(s), Outward(s));
        Vec2 along = b - a;
        double bent = along.Cross(n);
        double t = Math.Abs(bent) < 1e-9 ? 0 : Math.Clamp((q - a).Cross(n) / bent, 0, 1);
        Vec2 onLine = Vec2.Lerp(a, b, t);
        Vec2 towards = n * (n.Dot(onLine - q) < 0 ? -1 : 1);
        return (q + (towards * Radius(s)), onLine);
    }

    private Vec2 Normal(double s)
    {
        (int i, _) = Between(s);
        int from = Math.Max(0, i - 2);
        int to = Math.Min(Axis.Count - 1, i + 3);
        return (Axis[to] - Axis[from]).Perpendicular.Normalized();
    }

    private (int Index, double Share) Between(double s)
    {
        int i = 0;
        while (i < _samples.Count - 2 && _samples[i + 1].SMm < s)
            i++;
        double t = (s - _samples[i].SMm) / Math.Max(1e-9, _samples[i + 1].SMm - _samples[i].SMm);
        return (i, Math.Clamp(t, -3, 4));
    }
}

/// <summary>From our points to Skia's.</summary>
internal static class SkiaPoints
{
    public static SKPoint ToSk(this Vec2 p) => new((float)p.X, (float)p.Y);
}
