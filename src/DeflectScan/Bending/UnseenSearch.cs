using DeflectScan.Mechanics;
using DeflectScan.Mechanics.Stiffness;

namespace DeflectScan.Bending;

/// <summary>
/// How much blank bends unseen behind the trace, from photos of an untouched set-up: under another load the visible end is turned by what bends behind
/// it, while the clamp holds still. The length for which the clamp's angle comes out the same in both photos, by the secant rule.
/// </summary>
internal static class UnseenSearch
{
    private const double FirstMm = 300;
    private const double MostMm = 1000;
    private const double MostSds = 3;

    /// <summary>A clamp that gives as usual must not amount to more than this: else the photos' loads are too much alike.</summary>
    private const double MostOwnSdMm = 60;

    /// <param name="untied">The estimate with a given unseen length, each photo for itself; null where there is none.</param>
    /// <param name="clampGivesDeg">Standard deviation by which the clamp itself gives.</param>
    /// <returns>The length, as stiff as the blank's taper goes on; null where none from 0 to 1 m fits or the photos do not tell it.</returns>
    public static UnseenLength? Of(Func<double, StiffnessEstimate?> untied, double clampGivesDeg)
    {
        if (untied(0) is not { ClampMoved: not null } none || untied(FirstMm) is not { } some)
            return null;
        int photo = Enumerable.Range(1, none.Photos.Count - 1).MaxBy(i => Math.Abs(none.Photos[i].ForceRatio - none.Photos[0].ForceRatio));
        (double mm, double deg) from = (0, none.ClampMovedIn(photo).Deg);
        (double mm, double deg) to = (FirstMm, some.ClampMovedIn(photo).Deg);
        double sdDeg = some.ClampMovedIn(photo).SdDeg;
        for (int turn = 0; ; turn++)
        {
            double degPerMm = (to.deg - from.deg) / (to.mm - from.mm);
            double own = clampGivesDeg / Math.Abs(degPerMm);
            double sd = double.Hypot(sdDeg / degPerMm, own);
            double mm = to.mm - (to.deg / degPerMm);
            if (!(own <= MostOwnSdMm) || mm < -MostSds * sd || mm > MostMm)
                return null;
            mm = Math.Max(0, mm);
            if (turn == 2 || Math.Abs(mm - to.mm) < 0.1 * sd)
                return new UnseenLength(mm, sd, own, new UnseenByTurn(photo, degPerMm * Math.PI / 180));
            if (untied(mm) is not { } next)
                return null;
            (from, to, sdDeg) = (to, (mm, next.ClampMovedIn(photo).Deg), next.ClampMovedIn(photo).SdDeg);
        }
    }
}

/// <summary>What was found.</summary>
/// <param name="Mm">Length.</param>
/// <param name="SdMm">Its standard deviation in all.</param>
/// <param name="OwnSdMm">The part that comes from the clamp alone; the rest goes with the errors of the fit.</param>
/// <param name="By">How it goes with them.</param>
internal sealed record UnseenLength(double Mm, double SdMm, double OwnSdMm, UnseenByTurn By);
