using DeflectScan.Calibration;
using DeflectScan.Findings;
using DeflectScan.Measuring.Figures;
using DeflectScan.Photos;
using DeflectScan.Tracing.Handle;

namespace DeflectScan.Measuring;

/// <summary>
/// Holds a taped blank length against the photo: the traced length and the handle up to its butt end. Where both agree it enters the
/// adjustment; where not, it shows a card that stands off
/// the rod plane or was not printed at 100 %, which one card alone cannot.
/// </summary>
internal static class LengthCheck
{
    /// <summary>
    /// The blank ends inside the handle, somewhere under the butt cap: its end is known to about ±20 mm (standard uncertainty of a uniform
    /// distribution of that half width, JCGM 100:2008, 4.3.7).
    /// </summary>
    private const double ButtSdMm = 20 / 1.7320508;

    /// <summary>A tape and a photo farther apart than this many standard uncertainties of their difference contradict each other (1 in 80 by chance).</summary>
    internal const double Contradiction = 2.5;

    /// <summary>The figures adjusted to the taped length, which tells the photo's scale; as they were when none was given or it contradicts them.</summary>
    public static LayoutUncertainty Use(
        LayoutUncertainty figures, UprightPhoto photo, RodPlane plane, PlaneTrace trace, double? tapedMm, FindingLedger ledger)
    {
        if (tapedMm is not { } taped)
            return figures;
        if (TooShort(figures, taped) is { } tooShort)
        {
            ledger.Add(tooShort);
            return figures;
        }

        if (ButtFinder.EndStationMm(photo, plane, trace.Axis) is not { } seen)
        {
            ledger.Add(Finding.Note(
                FindingCode.ButtOutsideFrame,
                "The butt end of the handle was not seen, so the taped blank length could not check the scale: take the photo with the whole handle in it."));
            return figures;
        }

        // The whole length scales as the traced part of it does.
        Dictionary<int, double> whole = new() { [figures.LengthAt] = seen / figures.Figures.Values[figures.LengthAt] };
        (double difference, double sd) = figures.Figures.Compare(whole, taped, ButtSdMm);
        if (Math.Abs(difference) <= Contradiction * sd)
            return figures with { Figures = figures.Figures.Given(whole, taped, ButtSdMm) };
        ledger.Add(Finding.Review(
            FindingCode.CardOffPlane,
            $"The photo says {seen:0} mm from tip to butt but the tape says {taped:0} mm: put the card into the plane of the rod, check its 100 mm rule, and take the photo again."));
        return figures;
    }

    /// <summary>A blank is no shorter than what is seen of it; a trace that runs to a bare butt end is as sure of that end as of any other.</summary>
    internal static Finding? TooShort(LayoutUncertainty figures, double tapedMm)
    {
        (double difference, double sd) = figures.Figures.Compare(new Dictionary<int, double> { [figures.LengthAt] = 1 }, tapedMm, ButtSdMm);
        return difference >= -Contradiction * sd
            ? null
            : Finding.Review(
                FindingCode.CardOffPlane,
                $"The tape says that the whole blank is {tapedMm:0} mm long, but {tapedMm - difference:0} mm of it are seen from the tip to where the handle begins: check the tape, the card's 100 mm rule, and on the overlay that the trace is the blank.");
    }
}
