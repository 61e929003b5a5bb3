using DeflectScan.Geometry;

namespace DeflectScan.Layout.OnRings;

/// <summary>At what bend a line outside the bend would come to touch the blank.</summary>
/// <param name="Scale">The bend there as a multiple of the measured one: below 1 it touches already.</param>
/// <param name="TipTurnDeg">Turning of the tip against the butt end of the traced axis at that bend.</param>
/// <param name="FromRing">Index of the reelward ring of the pair that touches first.</param>
public sealed record ContactOnset(double Scale, double TipTurnDeg, int FromRing)
{
    /// <summary>
    /// The onset, or null when it lies beyond <paramref name="largestScale"/>. Every curvature is multiplied by one factor, so the bend keeps its
    /// form: true for small changes of load; a blank pulled much further bends lower down, which the mechanics of the blank tells better.
    /// </summary>
    /// <param name="shape">The blank as measured.</param>
    /// <param name="rings">From the reel to the tip-top.</param>
    /// <param name="side">Side of the bend that the guides stand on.</param>
    /// <param name="largestScale">Search no farther than this multiple of the bend.</param>
    public static ContactOnset? Find(BlankShape shape, IReadOnlyList<RingPoint> rings, GuideSide side, double largestScale = 2.5)
    {
        if (Lowest(largestScale).Clearance > 0)
            return null;
        double lo = 0, hi = largestScale;
        while (hi - lo > 1e-4)
        {
            double middle = (lo + hi) / 2;
            if (Lowest(middle).Clearance > 0)
                lo = middle;
            else
                hi = middle;
        }

        return new ContactOnset(hi, hi * shape.TurnDeg, Lowest(hi).Pair);

        (double Clearance, int Pair) Lowest(double scale)
        {
            BlankShape bent = shape.Bent(scale);
            RingPoint[] moved = [.. rings.Select(r => RingPoint.At(bent, r.StationMm, r.DistanceMm, side))];
            (double Clearance, int Pair) lowest = (double.PositiveInfinity, 0);
            for (int i = 0; i + 1 < moved.Length; i++)
            {
                double clearance = IntervalRule.Measure(bent, moved[i], moved[i + 1], side).ClearanceMm;
                lowest = clearance < lowest.Clearance ? (clearance, i) : lowest;
            }

            return lowest;
        }
    }
}
