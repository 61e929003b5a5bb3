using DeflectScan.Findings;
using DeflectScan.Geometry;
using DeflectScan.Mechanics;

namespace DeflectScan.Bending;

/// <summary>A measurement document as the mechanics take it: the blank's axis, how well it is known, and what pulls it. Rod-plane mm, origin at the tip.</summary>
public static class PhotoOfBlank
{
    /// <summary>
    /// How much larger than an axis point's own uncertainty the part is taken that neighbours share. The axis is a smooth fit, so its
    /// error is shared almost whole; taken too small, a stiffness or a rest curve is read out of it that is not there.
    /// </summary>
    private const double SharedFactor = 2;

    /// <summary>Distance in mm over which the shared part fades to 1/e: about the spacing of the knots of the traced axis.</summary>
    private const double SharedOverMm = 60;

    /// <summary>Standard uncertainty in mm across the axis where a document does not say (made before it did).</summary>
    private const double UnknownSdMm = 0.15;

    /// <summary>Standard uncertainty of a scale's reading as a share; common practice, no source.</summary>
    private const double LoadSdShare = 0.01;

    /// <summary>Standard uncertainty in mm of a tip at rest along the blank: no line shows its tip-top; up to 15 mm off on rendered photos.</summary>
    private const double RestTipSdMm = 8;

    /// <summary>A loaded blank, or a refusal that says what is missing.</summary>
    public static Outcome<MeasuredBend> Loaded(Measurement m)
    {
        if (Check(m) is { } refusal)
            return Outcome<MeasuredBend>.Refused(refusal);
        if (m.Pull is not { DirectionDeg: { } direction } pull)
        {
            return Outcome<MeasuredBend>.Refused(
                FindingCode.LineNotSeen, "The cord was not seen in the photo, and a bend needs its direction: measure again with the direction of the pull, in degrees as the photo shows it (-90 is straight down).");
        }

        return Outcome<MeasuredBend>.Of(AtRestOf(m) with
        {
            CordDirectionDeg = direction,
            CordDirectionSdDeg = (pull.DirectionUncertaintyDeg ?? 1) / 2,
            LoadN = pull.LoadN,
            LoadSdShare = LoadSdShare,
        });
    }

    /// <summary>The same blank unloaded: nothing pulls it but its own weight.</summary>
    public static Outcome<MeasuredBend> AtRest(Measurement m) =>
        Check(m) is { } refusal ? Outcome<MeasuredBend>.Refused(refusal) : Outcome<MeasuredBend>.Of(AtRestOf(m) with { TipSdMm = RestTipSdMm });

    private static MeasuredBend AtRestOf(Measurement m)
    {
        double[] sd = [.. m.Blank!.Axis.Select(a => (a.AcrossUncertaintyMm / 2) ?? UnknownSdMm)];
        return new MeasuredBend([.. m.Blank.Axis.Select(a => a.Mm)])
        {
            NormalSdsMm = sd,
            CorrelatedSdMm = SharedFactor * Math.Sqrt(sd.Average(s => s * s)),
            CorrelationLengthMm = SharedOverMm,
            TipSdMm = 1,
            Down = m.Pull?.PlumbDeg is { } plumb ? Unit(plumb) : new Vec2(0, -1),
        };
    }

    private static Finding? Check(Measurement m)
    {
        if (m.Status == MeasurementStatus.Refused || m.Blank is not { } blank)
            return Finding.Refuse(FindingCode.FileUnreadable, "The document holds no measured blank: give one of a photo whose status is ok or needs_review.");
        bool whole = blank.Axis.Count >= 20
            && blank.Axis.All(a => double.IsFinite(a.Mm.X) && double.IsFinite(a.Mm.Y) && a.DiameterMm > 0 && a.AcrossUncertaintyMm is null or > 0)
            && blank.Axis.Zip(blank.Axis.Skip(1)).All(p => p.Second.SMm > p.First.SMm && p.Second.Mm.DistanceTo(p.First.Mm) is > 0.2 and < 21);
        return whole ? null : Finding.Refuse(FindingCode.FileUnreadable, "The document's axis is damaged or too short for a bend: measure the photo again.");
    }

    private static Vec2 Unit(double deg) => new(Math.Cos(deg * Math.PI / 180), Math.Sin(deg * Math.PI / 180));
}
