using DeflectScan.Calibration;
using DeflectScan.Findings;
using DeflectScan.Photos;
using DeflectScan.Tracing.Handle;

namespace DeflectScan;

/// <summary>
/// Holds a taped blank length against the photo: the traced length and the handle up to its butt end. It shows a card that stands off
/// the rod plane or was not printed at 100 %, which one card alone cannot.
/// </summary>
internal static class LengthCheck
{
    /// <summary>
    /// The blank ends inside the handle, somewhere under the butt cap: its end is known to about ±20 mm (standard uncertainty of a uniform
    /// distribution of that half width, JCGM 100:2008, 4.3.7).
    /// </summary>
    private const double ButtSdMm = 20 / 1.7320508;

    /// <summary>Adds what the comparison says; nothing when no length was given or both agree.</summary>
    public static void Report(
        UprightPhoto photo, RodPlane plane, PlaneTrace trace, double lengthUncertaintyMm, double? tapedMm, FindingLedger ledger)
    {
        if (tapedMm is not { } taped)
            return;
        if (ButtFinder.EndStationMm(photo, plane, trace.Axis) is not { } seen)
        {
            ledger.Add(Finding.Note(
                FindingCode.ButtOutsideFrame,
                "The butt end of the handle was not seen, so the taped blank length could not check the scale: take the photo with the whole handle in it."));
            return;
        }

        double sd = Math.Sqrt((ButtSdMm * ButtSdMm) + (lengthUncertaintyMm * lengthUncertaintyMm / 4));
        if (Math.Abs(seen - taped) <= 2.5 * sd)
            return;
        ledger.Add(Finding.Review(
            FindingCode.CardOffPlane,
            $"The photo says {seen:0} mm from tip to butt but the tape says {taped:0} mm: put the card into the plane of the rod, check its 100 mm rule, and take the photo again."));
    }
}
