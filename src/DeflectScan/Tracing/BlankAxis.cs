using DeflectScan.Geometry;

namespace DeflectScan.Tracing;

/// <summary>The traced blank: its centreline in the rod plane and its diameter along the way. s runs from the tip towards the butt.</summary>
/// <param name="Curve">Centreline in rod-plane mm; s = 0 at the blank's tip end, as well as it is known so far.</param>
/// <param name="DiameterStations">Ascending s in mm where a diameter was fitted.</param>
/// <param name="DiametersMm">Outer diameter in mm at <paramref name="DiameterStations"/>, wraps and gloss left out.</param>
/// <param name="NormalSdMm">Standard uncertainty, from tracing noise alone, of the centreline's place along its normal, at <paramref name="DiameterStations"/>.</param>
/// <param name="DiameterSdMm">Standard uncertainty of the diameter from tracing noise alone, same stations.</param>
/// <param name="HandleStationMm">s where the bare blank goes into the handle (or leaves what could be seen).</param>
/// <param name="Support">Share of the length, 0 to 1, over which both edges were seen.</param>
public sealed record BlankAxis(
    ArcCurve Curve,
    IReadOnlyList<double> DiameterStations,
    IReadOnlyList<double> DiametersMm,
    IReadOnlyList<double> NormalSdMm,
    IReadOnlyList<double> DiameterSdMm,
    double HandleStationMm,
    double Support)
{
    /// <summary>
    /// The part of <see cref="NormalSdMm"/> that differs from place to place: noise, and what the readings leave open. The rest, gloss and shade,
    /// moves a whole stretch alike, which a bow does not show. Null: all of it.
    /// </summary>
    public IReadOnlyList<double>? LocalSdMm { get; init; }

    /// <summary>Stretches, mm from the tip's end, over which something hides the blank so far that a guide could stand behind it.</summary>
    public IReadOnlyList<(double FromMm, double ToMm)> Hidden { get; init; } = [];

    /// <summary>Standard uncertainty across the centreline in mm against the stretch about it, from tracing noise alone.</summary>
    public double LocalSd(double s) => Interpolate(LocalSdMm ?? NormalSdMm, s);

    /// <summary>The blank's local radius in mm: linear between the fitted stations, constant beyond them.</summary>
    public double RadiusMm(double s) => Interpolate(DiametersMm, s) / 2;

    /// <summary>Standard uncertainty across the centreline in mm, from tracing noise alone.</summary>
    public double SdMm(double s) => Interpolate(NormalSdMm, s);

    /// <summary>Standard uncertainty of the diameter in mm, from tracing noise alone.</summary>
    public double DiameterSd(double s) => Interpolate(DiameterSdMm, s);

    /// <summary>The same blank with s = 0 moved to <paramref name="tipStation"/> of the present curve (negative: beyond its end, straight on).</summary>
    public BlankAxis WithTipAt(double tipStation) => this with
    {
        Curve = Curve.Part(tipStation, Curve.Length, knotSpacing: 5),
        DiameterStations = [.. DiameterStations.Select(s => s - tipStation)],
        HandleStationMm = HandleStationMm - tipStation,
        Hidden = [.. Hidden.Select(h => (h.FromMm - tipStation, h.ToMm - tipStation))],
    };

    private double Interpolate(IReadOnlyList<double> values, double s)
    {
        int last = DiameterStations.Count - 1;
        if (s <= DiameterStations[0])
            return values[0];
        if (last == 0 || s > DiameterStations[last])
            return values[^1];
        int before = 0;
        int after = last;
        while (after - before > 1)
        {
            int middle = (before + after) / 2;
            if (s > DiameterStations[middle])
                before = middle;
            else
                after = middle;
        }

        double t = (s - DiameterStations[before]) / (DiameterStations[after] - DiameterStations[before]);
        return values[before] + (t * (values[after] - values[before]));
    }
}
