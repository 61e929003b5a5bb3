using System.Runtime.CompilerServices;
using DeflectScan.Geometry;
using DeflectScan.Numerics;

namespace DeflectScan.Mechanics.Estimation;

/// <summary>
/// One photo in the fit: how far its measured points lie off a modelled bend along the normal, whitened, with the derivatives by the
/// unknowns (columns: the shared ones, then this photo's own five).
/// </summary>
internal sealed class FitCase
{
    private readonly TangentShooting _shooting;
    private readonly CubicBasis _profile;
    private readonly double[] _pointStations;
    private readonly Vec2[] _startNormals;
    private readonly Whitening _whitening;

    public FitCase(MeasuredBend measured, TangentShooting shooting, CubicBasis profile, AxisStart start)
    {
        Measured = measured;
        Start = start;
        _shooting = shooting;
        _profile = profile;
        _pointStations = start.PointStations();
        _startNormals = [.. _pointStations.Select(NormalOfStart)];
        _whitening = Whitening.Of(measured, _pointStations);
        Rows = measured.AxisMm.Count + 1;
        Width = shooting.Layout.Count + 2;
        Nearest = [.. _pointStations];
    }

    public MeasuredBend Measured { get; }

    public AxisStart Start { get; }

    /// <summary>Points, then the tip's place along the axis.</summary>
    public int Rows { get; }

    public int Width { get; }

    /// <summary>Station in mm of the model's nearest place to each measured point, from the last evaluation.</summary>
    public double[] Nearest { get; }

    /// <summary>Mean of the points' own standard uncertainties across the axis, mm.</summary>
    public double MeanSdMm => Measured.NormalSdsMm?.Average() ?? Measured.NormalSdMm;

    /// <summary>Factor on all stated standard uncertainties of the points, 1 at first; raised when the misfit shows that they were too small.</summary>
    public double NoiseFactor { get; set; } = 1;

    /// <summary>The clamp's angle against this photo's downward direction in radians, from the last evaluation.</summary>
    public double ClampFromDownRad { get; private set; }

    /// <summary>Its derivatives by the unknowns, in this photo's columns without the tip's place.</summary>
    public double[] ClampAngleBy { get; private set; } = [];

    public TangentTrace Trace(double[] x, Unknowns u, int photo) => _shooting.Run(
        x.AsSpan(0, u.Profile), x.AsSpan(u.Profile, u.Natural), x[u.Weight], Measured.Down,
        x[u.TipAngle(photo)], x[u.ForceAngle(photo)], Measured.IsAtRest ? 0 : Math.Exp(x[u.LogForce(photo)]));

    /// <summary>Whitened residuals and their derivatives, row by row.</summary>
    /// <param name="x">All unknowns.</param>
    /// <param name="u">Their places.</param>
    /// <param name="photo">This photo's number.</param>
    /// <param name="byStation">True at the start: compares at equal arc length along the measured normal, which far-off bends need.</param>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public (double[] Residuals, double[] Derivatives) Evaluate(double[] x, Unknowns u, int photo, bool byStation)
    {
        TangentTrace trace = Trace(x, u, photo);
        Vec2 tip = new(x[u.TipX(photo)], x[u.TipY(photo)]);
        ClampFromDownRad = trace.Angle[^1] - Math.Atan2(Measured.Down.Y, Measured.Down.X);
        ClampAngleBy = [.. trace.AngleBy.AsSpan(^trace.Count..)];
        int points = Rows - 1;
        double[] residuals = new double[Rows];
        double[] derivatives = new double[Rows * Width];
        for (int i = 0; i < points; i++)
        {
            Vec2 p = Measured.AxisMm[i] - tip;
            double s = byStation ? _pointStations[i] : Project(trace, p, Nearest[i]);
            Vec2 n = byStation ? _startNormals[i] : Normal(AngleAt(trace, s));
            if (!byStation)
                Nearest[i] = s;
            residuals[i] = n.Dot(p - PlaceAt(trace, s));
            FillRow(derivatives.AsSpan(i * Width, Width), trace, s, n);
        }

        Whiten(residuals, 1);
        Whiten(derivatives, Width);
        Vec2 along = -Normal(trace.Angle[0]).Perpendicular;
        residuals[points] = along.Dot(Measured.AxisMm[0] - tip) / Measured.TipSdMm;
        derivatives[(points * Width) + Width - 2] = -along.X / Measured.TipSdMm;
        derivatives[(points * Width) + Width - 1] = -along.Y / Measured.TipSdMm;
        return (residuals, derivatives);
    }

    /// <summary>Whitens rows of points in place, <paramref name="width"/> values a row.</summary>
    public void Whiten(double[] rows, int width)
    {
        _whitening.Apply(rows, width);
        if (NoiseFactor == 1)
            return;
        for (int i = 0; i < width * (Rows - 1); i++)
            rows[i] /= NoiseFactor;
    }

    public static Vec2 Normal(double angle) => new(-Math.Sin(angle), Math.Cos(angle));

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private void FillRow(Span<double> row, TangentTrace trace, double s, Vec2 n)
    {
        (int i, double t) = Locate(s);
        int p = trace.Count;
        double share = Math.Clamp(t, 0, 1);
        Span<double> columns = row[..p];
        Vectors.Scale(columns, -n.X * (1 - share), trace.XBy.AsSpan(i * p, p));
        Vectors.Add(columns, -n.X * share, trace.XBy.AsSpan((i + 1) * p, p));
        Vectors.Add(columns, -n.Y * (1 - share), trace.YBy.AsSpan(i * p, p));
        Vectors.Add(columns, -n.Y * share, trace.YBy.AsSpan((i + 1) * p, p));
        row[p] = -n.X;
        row[p + 1] = -n.Y;
    }

    private double Project(TangentTrace trace, Vec2 p, double s)
    {
        for (int turn = 0; turn < 20; turn++)
        {
            Vec2 away = p - PlaceAt(trace, s);
            Vec2 n = Normal(AngleAt(trace, s));
            double step = away.Dot(n.Perpendicular);
            s += Math.Clamp(step, -0.1 * Start.LengthMm, 0.1 * Start.LengthMm);
            if (Math.Abs(step) < 1e-7)
                break;
        }

        return s;
    }

    public Vec2 PlaceAt(TangentTrace trace, double s)
    {
        (int i, double t) = Locate(s);
        double h = _shooting.Stations[i + 1] - _shooting.Stations[i];
        Vec2 d0 = Normal(trace.Angle[i]).Perpendicular;
        Vec2 d1 = Normal(trace.Angle[i + 1]).Perpendicular;
        if (t < 0)
            return trace.Place[i] + (d0 * (t * h));
        if (t > 1)
            return trace.Place[i + 1] + (d1 * ((t - 1) * h));
        double t2 = t * t;
        double t3 = t2 * t;
        return (trace.Place[i] * ((2 * t3) - (3 * t2) + 1)) + (d0 * (h * (t3 - (2 * t2) + t)))
            + (trace.Place[i + 1] * ((3 * t2) - (2 * t3))) + (d1 * (h * (t3 - t2)));
    }

    public double AngleAt(TangentTrace trace, double s)
    {
        (int i, double t) = Locate(s);
        return trace.Angle[i] + (Math.Clamp(t, 0, 1) * (trace.Angle[i + 1] - trace.Angle[i]));
    }

    /// <summary>Curvature by bending alone, M/C, in 1/mm.</summary>
    public double BendingCurvature(TangentTrace trace, double s, double[] x, Unknowns u)
    {
        (int i, double t) = Locate(s);
        double moment = trace.Moment[i] + (Math.Clamp(t, 0, 1) * (trace.Moment[i + 1] - trace.Moment[i]));
        return moment / Math.Pow(_profile.Value(x.AsSpan(0, u.Profile), s), 4);
    }

    private (int Node, double Share) Locate(double s)
    {
        double[] stations = _shooting.Stations;
        int i = Array.BinarySearch(stations, s);
        i = Math.Clamp(i >= 0 ? i : ~i - 1, 0, stations.Length - 2);
        return (i, (s - stations[i]) / (stations[i + 1] - stations[i]));
    }

    private Vec2 NormalOfStart(double station)
    {
        int i = Array.BinarySearch(Start.Stations, station);
        return Normal(Start.Angles[Math.Clamp(i >= 0 ? i : ~i, 0, Start.Angles.Length - 1)]);
    }
}
