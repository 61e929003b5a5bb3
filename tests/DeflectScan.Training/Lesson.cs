using System.Text.Json;
using DeflectScan.Calibration;
using DeflectScan.Geometry;
using DeflectScan.Scenes;
using DeflectScan.Tracing;
using DeflectScan.Tracing.Reading;
using OpenCvSharp;

namespace DeflectScan.Training;

/// <summary>One scene as the networks see it: NAME-strip.jpg, NAME-photo.jpg and NAME.json with what stands where.</summary>
internal static class Lesson
{
    private const int StripQuality = 95;
    private const int PhotoQuality = 92;

    /// <summary>The traced axis is good to hundredths of a px; the wobble keeps the network from leaning on it, mm (standard deviation).</summary>
    private const double WobbleMm = 0.3;
    private const double WobbleEveryMm = 150;

    /// <summary>Three lessons in ten wobble more, up to this: the reader shall bear an axis that is only proposed.</summary>
    private const double WideWobbleMm = 1.5;
    private const double WideWobbleShare = 0.3;

    /// <summary>From point to point of the curve, mm. None comes nearer to the true end than half of it: beside that point wobble would turn the curve's end about.</summary>
    private const double StepMm = 10;

    /// <summary>Where the traced blank enters the handle is found to some cm.</summary>
    private const double HandleFromMm = -30;
    private const double HandleToMm = 40;

    public static void Write(string path, byte[] jpeg, Truth truth, Random chance)
    {
        using Mat photo = Cv2.ImDecode(jpeg, ImreadModes.Color);
        RodPlane plane = truth.RodPlane();
        ArcCurve exact = Exact(truth);
        BlankAxis axis = Axis(truth, exact, chance);
        StripFrame frame = StripFrame.Of(axis);
        using Mat strip = ReadingStrip.Sample(photo, plane, axis, frame);
        Cv2.ImWrite(path + "-strip.jpg", strip, [(int)ImwriteFlags.JpegQuality, StripQuality]);
        double mmPerPx = truth.Camera.MmPerPxCentre;
        using Mat small = PhotoView.Reduced(photo, mmPerPx, out double factor);
        Cv2.ImWrite(path + "-photo.jpg", small, [(int)ImwriteFlags.JpegQuality, PhotoQuality]);
        File.WriteAllText(path + ".json", JsonSerializer.Serialize(new { strip = StripTruth(truth, exact, axis, frame), photo = PhotoTruth(truth, plane, factor) }));
    }

    public static ArcCurve Exact(Truth truth) => ArcCurve.Through([.. truth.Blank.Samples.Reverse().Select(s => new Vec2(s.X, s.Y))]);

    /// <summary>A blank's axis as it may be traced: with a wobble, and a handle's end that is off.</summary>
    public static BlankAxis Axis(Truth truth, ArcCurve exact, Random chance)
    {
        IReadOnlyList<TruthSample> samples = truth.Blank.Samples;
        double wobble = chance.NextDouble() < WideWobbleShare ? WobbleMm + ((WideWobbleMm - WobbleMm) * chance.NextDouble()) : WobbleMm;
        double[] knots = [.. Enumerable.Range(0, (int)(exact.Length / WobbleEveryMm) + 3).Select(_ => wobble * Normal(chance))];
        List<Vec2> points = [];
        for (double s = 0; s < exact.Length - (StepMm / 2); s += StepMm)
        {
            double at = s / WobbleEveryMm;
            double t = at - Math.Floor(at);
            t = t * t * (3 - (2 * t));
            points.Add(exact.Point(s) + (exact.Normal(s) * (((1 - t) * knots[(int)at]) + (t * knots[(int)at + 1]))));
        }

        points.Add(exact.Point(exact.Length));
        double handle = truth.Blank.LengthMm - truth.Blank.VisibleFromSMm + HandleFromMm + ((HandleToMm - HandleFromMm) * chance.NextDouble());
        double[] stations = [.. samples.Reverse().Select(s => truth.Blank.LengthMm - s.S)];
        double[] diameters = [.. samples.Reverse().Select(s => s.DiameterMm)];
        double[] none = new double[stations.Length];
        return new BlankAxis(ArcCurve.Through(points), stations, diameters, none, none, handle, 1);
    }

    private static object StripTruth(Truth truth, ArcCurve exact, BlankAxis axis, StripFrame frame)
    {
        double[] Place(Vec2 p)
        {
            (double s, double offset) = axis.Curve.Nearest(p);
            return [frame.ColumnOf(s), StripFrame.RowOf(offset * frame.InsideSign)];
        }

        double[] Row(TruthGuide g) => [.. Place(At(g.ContactMm)), g.RingOuterMm, g.Kind == "guide" ? 0 : 1];
        bool reelHidden = (truth.Hidden ?? []).Any(h => truth.Blank.ReelFrontSMm > h[0] - 5 && truth.Blank.ReelFrontSMm < h[1] + 5);
        double[][] line = [.. Dense(truth.Line.Vertices.Select(v => new Vec2(v.X, v.Y))).Select(Place)];
        double[][] hang = truth.Line.HangsToMm is { } to ? [.. Dense([At(truth.Guides[^1].ContactMm), At(to)], 300).Select(Place)] : [];
        double[][] cord = truth.Cord is { } c ? [.. Dense([At(c.FromMm), At(c.ToMm)], 300).Select(Place)] : [];
        return new
        {
            columns = frame.Columns,
            inside = truth.Side == "inside",
            guides = truth.Guides.Where(g => !g.Hidden).Select(Row),
            hidden_guides = truth.Guides.Where(g => g.Hidden).Select(Row),
            hidden = (truth.Hidden ?? []).Select(h => (double[])[frame.ColumnOf(truth.Blank.LengthMm - h[0]), frame.ColumnOf(truth.Blank.LengthMm - h[1])]),
            pieces = (truth.Pieces ?? []).Where(p => p.Role is "spare" or "decoration" or "ferrule" or "hook-keeper")
                .Select(p => (double[])[frame.ColumnOf(truth.Blank.LengthMm - p.FromSMm), frame.ColumnOf(truth.Blank.LengthMm - p.ToSMm)]),
            line,
            hang,
            cord,
            line_rows = truth.Line.DiameterMm / StripFrame.RowMm,
            cord_rows = (truth.Cord?.DiameterMm ?? 0) / StripFrame.RowMm,
            radius_rows = Enumerable.Range(0, frame.Columns).Select(x => Math.Round(frame.Station(x) < 0 ? 0 : axis.RadiusMm(frame.Station(x)) / StripFrame.RowMm, 2)),
            blank_rows = Enumerable.Range(0, frame.Columns).Select(x => Math.Round(StripFrame.RowOf(axis.Curve.Nearest(exact.Point(Math.Clamp(frame.Station(x), 0, exact.Length))).Offset * frame.InsideSign), 2)),
            reel = truth.Reel is "none" || reelHidden ? (double?)null : frame.ColumnOf(truth.Blank.LengthMm - truth.Blank.ReelFrontSMm),
            axis_row = StripFrame.RowOf(0),
        };
    }

    private static object PhotoTruth(Truth truth, RodPlane plane, double factor)
    {
        double[] Px(Vec2 mm)
        {
            Vec2 p = plane.ToPhoto(mm);
            return [((p.X + 0.5) * factor) - 0.5, ((p.Y + 0.5) * factor) - 0.5];
        }

        TruthBlank b = truth.Blank;

        // From sample to sample, so that the pairs follow the blank.
        IEnumerable<double[][]> Pairs(double[] hidden)
        {
            TruthSample[] of = [.. b.Samples.Where(s => s.S > hidden[0] - 5 && s.S < hidden[1] + 5)];
            return of.Zip(of.Skip(1)).Select(p => (double[][])[Px(new Vec2(p.First.X, p.First.Y)), Px(new Vec2(p.Second.X, p.Second.Y))]);
        }

        return new
        {
            mm_per_px = truth.Camera.MmPerPxCentre / factor,
            blank = b.Samples.Where(s => s.S >= b.VisibleFromSMm).Select(s => (double[])[.. Px(new Vec2(s.X, s.Y)), s.DiameterMm]),
            handle = b.Samples.Where(s => s.S <= b.VisibleFromSMm).Select(s => Px(new Vec2(s.X, s.Y))),
            reel_front = Px(b.Samples.Select(s => (Math.Abs(s.S - b.ReelFrontSMm), new Vec2(s.X, s.Y))).MinBy(p => p.Item1).Item2),
            has_reel = truth.Reel is not "none",
            hidden_px = (truth.Hidden ?? []).SelectMany(Pairs),
            cord = truth.Cord is { } c ? (double[][])[Px(At(c.FromMm)), Px(At(c.ToMm))] : [],
        };
    }

    private static Vec2 At(double[] p) => new(p[0], p[1]);

    private static IEnumerable<Vec2> Dense(IEnumerable<Vec2> points, double most = double.MaxValue)
    {
        Vec2? before = null;
        foreach (Vec2 p in points)
        {
            if (before is { } from)
            {
                double length = from.DistanceTo(p);
                for (double s = 0; s < Math.Min(length, most); s += 2)
                    yield return Vec2.Lerp(from, p, s / length);
            }

            before = p;
        }

        if (before is { } last && most == double.MaxValue)
            yield return last;
    }

    private static double Normal(Random r) => Math.Sqrt(-2 * Math.Log(1 - r.NextDouble())) * Math.Cos(2 * Math.PI * r.NextDouble());
}
