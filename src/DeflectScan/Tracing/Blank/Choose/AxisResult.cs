using DeflectScan.Calibration;
using DeflectScan.Findings;
using DeflectScan.Geometry;
using DeflectScan.Photos;

namespace DeflectScan.Tracing.Blank;

/// <summary>From the chosen candidate to the stage's result: ends, stations from the tip, uncertainties, findings.</summary>
internal static class AxisResult
{
    // The tip-top's tube and the cord's knot hide about the last centimetre (common practice, no source); a later stage sets s = 0.
    private const double HiddenTipMm = 10;
    private const double TubeMm = 15; // what is seen of the tip's last stretch may be tube and wrap already
    private const double SampleMm = 10;

    // What averaging along the blank does not take away, for edges of a sharp photo's blur: gloss and shade that differ between the
    // two sides and, where it is not known, sharpening. Seen on rendered photographs with exact truth.
    private static readonly (double AxisPx, double DiameterPx) Floor = (0.055, 0.105);
    private static readonly (double AxisPx, double DiameterPx) UnsharpenedFloor = (0.03, 0.05);

    // What of gloss and shade changes within the length of an interval, while the blank turns by some degrees in the light: chosen, not derived.
    // On rendered photographs and scenes the bows' errors show less of it than this.
    private const double LocalShare = 0.1;

    // Where a good part of the blank shows only one edge or none, the body that the network sees stands for it: on 60 of our own scenes, none learnt from, half of
    // them before the hardest walls, the axis was then 0.3 mm (rms) off.
    private const double BodyMm = 0.3;

    // The body's half width is within 0.6 mm at 90 in 100 places (SeenBody): a normal law's 1.645 standard deviations.
    private const double BodyHalfMm = 0.6 / 1.645;
    private const double WellSeen = 0.9;
    private const double HalfSeenShare = 0.1;

    public static Outcome<BlankAxis> Of(UprightPhoto photo, RodPlane plane, RodCandidate rod, AxisMarks marks, AxisOptions options)
    {
        double mmPerPx = plane.MmPerPx(rod.Bar.Curve.Point(rod.Bar.Length / 2));
        FrameExit exit = FrameExit.Of(photo, plane, rod, mmPerPx);
        List<Finding> findings = AxisFindings.Of(rod, exit, plane, options);
        if (!marks.Any && ShadowDoubt.Of(photo, plane, rod, mmPerPx) is { } shadow)
            findings.Add(shadow);
        if (findings.Exists(f => f.Severity == Severity.Refusal))
            return Outcome<BlankAxis>.Refused(findings);
        double butt = marks.ButtMm is { } b ? rod.Bar.Curve.Nearest(b).S : 0;
        double tip = marks.TipMm is { } t ? rod.Bar.Curve.Nearest(t).S : rod.Bar.Length + HiddenTipMm;
        ArcCurve curve = rod.Bar.Curve.Part(tip, butt, knotSpacing: 5);
        int count = Math.Max(2, (int)Math.Round(curve.Length / SampleMm));
        double[] stations = [.. Enumerable.Range(0, count + 1).Select(i => curve.Length * i / count)];
        double inflation = Correlation(rod);
        EdgeMisfit open = EdgeMisfit.Of(rod.Ungated, rod.Fit);
        double soft = Math.Max(1, rod.BlurPx / EdgeFinder.SharpPx);
        (double axisPx, double diameterPx) = options.Sharpening is null ? Floor : UnsharpenedFloor;
        double axisFloor = axisPx * soft * mmPerPx;
        double diameterFloor = diameterPx * soft * soft * mmPerPx;
        double[] diameters = new double[stations.Length];
        double[] normalSd = new double[stations.Length];
        double[] localSd = new double[stations.Length];
        double[] diameterSd = new double[stations.Length];
        for (int i = 0; i < stations.Length; i++)
        {
            double onBar = tip - stations[i];
            double onFit = Math.Clamp(rod.Fit.From + onBar, rod.Fit.From, rod.Fit.To);
            double beyond = Math.Max(0, Math.Max(-onBar, onBar - rod.Bar.Length + TubeMm));
            double toRadius = plane.OutlineToRadius(curve.Point(stations[i]), curve.Tangent(stations[i]));
            diameters[i] = BlurredBar.Width(2 * rod.Bar.Radius(onBar), rod.BlurPx * plane.MmPerPx(curve.Point(stations[i]))) * toRadius;
            (diameters[i], double thin, double missing) = Believed(rod, onBar, diameters[i], UsualBlank.DoubtMm(diameters[i], onBar / tip));
            double own = Square(rod.Fit.ShiftSd(onFit, inflation)) + Square(open.MiddleSd(onFit, inflation)) + Square(missing);
            double shared = Square(axisFloor) + Square(open.Axis(onFit)) + Square(BodyMm * Math.Clamp((WellSeen - rod.Support) / HalfSeenShare, 0, 1));
            normalSd[i] = Math.Sqrt(own + shared) * (1 + (beyond / 8));
            localSd[i] = Math.Sqrt(own + (Square(LocalShare) * shared)) * (1 + (beyond / 8));
            diameterSd[i] = Math.Sqrt(Square(2 * rod.Fit.RadiusSd(onFit, inflation)) + Square(diameterFloor) + Square(2 * open.Radius(onFit)) + Square(thin)) * (1 + (beyond / 50));
        }

        BlankAxis axis = new(curve, stations, diameters, normalSd, diameterSd, curve.Length, rod.Support)
        {
            LocalSdMm = localSd,
            Hidden = [.. AxisFindings.Hidden(rod).Select(h => (tip - h.To, tip - h.From)).Reverse()],
        };
        return Outcome<BlankAxis>.Of(axis, findings);
    }

    // A diameter that no blank has: blur was taken for more than it is, or a part of the blank was not seen. The body tells it roughly, and then the middle is off by
    // half of what may be missing at most, or by what the body leaves open.
    private static (double DiameterMm, double DiameterSdMm, double MiddleSdMm) Believed(RodCandidate rod, double onBar, double diameterMm, double doubtMm) =>
        doubtMm > 0
            ? (Math.Max(diameterMm, 2 * rod.Body.Beside(rod.Bar, onBar).Half), 2 * BodyHalfMm, Math.Min(BodyHalfMm, BodyMm))
            : (diameterMm, 0, 0);

    private static double Square(double v) => v * v;

    // Neighbouring stations err together (texture, gloss): variance of a mean grows by 1 + 2 (rho1 + rho2 + ...).
    private static double Correlation(RodCandidate rod)
    {
        List<double> misses = [];
        for (int i = 0; i < rod.Readings.Count; i++)
        {
            if (rod.Fit.Agrees[i])
                misses.Add(rod.Readings[i].Centre - rod.Fit.Shift(rod.Readings[i].S));
        }

        double own = misses.Sum(m => m * m);
        double factor = 1;
        for (int lag = 1; lag <= 6 && misses.Count > 3 * lag && own > 0; lag++)
        {
            double sum = 0;
            for (int i = lag; i < misses.Count; i++)
                sum += misses[i] * misses[i - lag];
            if (sum <= 0)
                break;
            factor += 2 * sum / own;
        }

        return factor;
    }
}
