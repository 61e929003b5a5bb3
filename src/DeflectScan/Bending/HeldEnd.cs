using DeflectScan.Findings;
using DeflectScan.Mechanics;
using DeflectScan.Mechanics.Stiffness;

namespace DeflectScan.Bending;

/// <summary>How the held end of a blank is taken: what bends unseen behind the trace, and whether the clamp ties the photos together.</summary>
/// <param name="Options">For the estimate.</param>
/// <param name="Said">What a person should know of it.</param>
internal sealed record HeldEnd(StiffnessOptions Options, Finding? Said)
{
    private const double MostSds = 3;

    /// <summary>
    /// Standard deviation in mm of how much blank bends within a handle, as stiff as where it comes out of it: a handle hides 250 to 400 mm, of which reel seat
    /// and clamp let some bend. Common practice, no source.
    /// </summary>
    private const double HandleSdMm = 200;

    /// <param name="untouched">Between the photos only the load was changed.</param>
    /// <param name="unseenMm">What was told; null for nothing.</param>
    /// <param name="estimate">The estimate with some options; null where there is none.</param>
    public static HeldEnd Of(bool untouched, double? unseenMm, Func<StiffnessOptions, StiffnessEstimate?> estimate)
    {
        StiffnessOptions options = new() { UnseenMm = unseenMm ?? 0, UnseenSdMm = unseenMm is null ? HandleSdMm : 0 };
        return !untouched ? new HeldEnd(options, null) : unseenMm is null ? Found(options, estimate) : Told(options, estimate);
    }

    private static HeldEnd Found(StiffnessOptions options, Func<StiffnessOptions, StiffnessEstimate?> estimate) =>
        UnseenSearch.Of(mm => estimate(new StiffnessOptions { UnseenMm = mm }), BlankSource.ClampGivesDeg) is { } found
            ? new HeldEnd(
                options with { UnseenMm = found.Mm, UnseenSdMm = found.OwnSdMm, UnseenFound = found.By },
                Finding.Note(
                    FindingCode.ButtOutsideFrame,
                    $"Between the photos the blank's held end turned as if {found.Mm:0} ±{2 * found.SdMm:0} mm of blank bent unseen behind its trace: taken so, since the unseen length was not told. If so much cannot bend there, something was moved between the photos."))
            : new HeldEnd(
                options,
                Finding.Review(
                    FindingCode.GuidesUncertain,
                    "No length of blank that bends unseen explains how its held end lies in the photos: something was moved between them, or their loads are too much alike to tell. The photos are taken each for itself."));

    private static HeldEnd Told(StiffnessOptions options, Func<StiffnessOptions, StiffnessEstimate?> estimate)
    {
        if (estimate(options)?.ClampMoved is not { } moved || Math.Abs(moved.Deg) <= MostSds * double.Hypot(moved.SdDeg, BlankSource.ClampGivesDeg))
            return new HeldEnd(options with { SameClampSdDeg = BlankSource.ClampGivesDeg }, null);

        // Photos that contradict an untouched set-up leave open, too, how much blank bends unseen.
        return new HeldEnd(
            options with { UnseenSdMm = HandleSdMm },
            Finding.Review(
                FindingCode.GuidesUncertain,
                $"The held end is turned by {Math.Abs(moved.Deg):0.0} ±{2 * moved.SdDeg:0.0} degrees between the photos, more than a clamp that was left alone gives: more blank bends unseen than told (leave that length out, and the photos tell it), or something was moved. The photos are taken each for itself."));
    }
}
