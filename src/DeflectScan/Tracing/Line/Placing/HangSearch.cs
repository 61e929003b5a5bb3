using DeflectScan.Calibration;
using DeflectScan.Geometry;
using OpenCvSharp;

namespace DeflectScan.Tracing.Line;

/// <summary>The line beyond the tip-top: where it leaves the last segment and where it goes.</summary>
/// <param name="ContactMm">The tip-top's ring point.</param>
/// <param name="EndMm">Farthest point of the hanging line that was used.</param>
/// <param name="Score">Its log-likelihood ratio.</param>
internal sealed record HangingLine(Vec2 ContactMm, Vec2 EndMm, double Score);

/// <summary>
/// Finds the line that hangs from the tip-top to the weight: straight, near the photo's vertical, of the line's colour, starting on the
/// last segment's way near the blank's end. A photo may have been turned on its way here: where the line is not plain below the tip, the
/// three other quarters are tried too.
/// </summary>
internal static class HangSearch
{
    private const double LongestMm = 140;
    private const double ShortestMm = 30;
    private const double MaxSlope = 0.35;

    /// <summary>Least score of a line that is there; chance, and a cord's edge, reach 17 on rendered photographs.</summary>
    private const double LeastScore = 20;

    /// <summary>How far off the photo's vertical a plumb line usually is: a camera held level to 3 degrees, and perspective.</summary>
    private const double UsualSlope = 0.07;

    /// <summary>A score that settles that the photo is upright; lines on clear rendered photographs reach 110 to 240.</summary>
    private const double PlainScore = 100;

    /// <summary>By how much a line in another quarter must beat the one below the tip: turned photos are rare, and a cord lies there.</summary>
    private const double TurnedMargin = 20;

    /// <summary>A quarter within 30 degrees of the last segment's own way is not tried: there the segment would pass for the hanging line.</summary>
    private const double OwnWayCosine = 0.866;

    /// <param name="photoBgr">The photo.</param>
    /// <param name="plane">The rod plane.</param>
    /// <param name="colour">The line's.</param>
    /// <param name="lastRing">Of the ring next to the tip-top, rod-plane mm.</param>
    /// <param name="towardsTip">Where the tip-top's ring was read, rod-plane mm.</param>
    /// <param name="sdMm">Standard uncertainty of that along the line: a contact farther off has to be plainer by as much as the normal law says.</param>
    /// <param name="reachMm">Farther off it is not looked for.</param>
    /// <param name="stepMm">Step of the search.</param>
    public static HangingLine? Find(Mat photoBgr, RodPlane plane, LineColour colour, Vec2 lastRing, Vec2 towardsTip, double sdMm, double reachMm, double stepMm)
    {
        HangingLine best = Towards(new Vec2(0, 40), photoBgr, plane, colour, lastRing, towardsTip, sdMm, reachMm, stepMm);
        double least = Math.Max(LeastScore, best.Score + TurnedMargin);
        if (best.Score < PlainScore)
        {
            foreach (Vec2 downPx in new Vec2[] { new(40, 0), new(-40, 0), new(0, -40) })
            {
                Vec2 down = (plane.ToPlane(plane.ToPhoto(towardsTip) + downPx) - towardsTip).Normalized();
                if (Math.Abs(down.Dot((lastRing - towardsTip).Normalized())) > OwnWayCosine)
                    continue;
                HangingLine turned = Towards(downPx, photoBgr, plane, colour, lastRing, towardsTip, sdMm, reachMm, stepMm);
                if (turned.Score > Math.Max(least, best.Score))
                    best = turned;
            }
        }

        return best.Score < LeastScore ? null : best;
    }

    private static HangingLine Towards(
        Vec2 downPx, Mat photoBgr, RodPlane plane, LineColour colour, Vec2 lastRing, Vec2 towardsTip, double sdMm, double reachMm, double stepMm)
    {
        Vec2 down = (plane.ToPlane(plane.ToPhoto(towardsTip) + downPx) - towardsTip).Normalized();
        double above = reachMm + 15;
        BandStrip strip = StraightBand.Sample(
            photoBgr, plane, towardsTip - (down * above), down, LongestMm + (2 * above), reachMm + (MaxSlope * LongestMm), stepMm).Paired();
        LikelihoodMap map = HangLikelihood.Compute(ThinResponse.Of(strip), colour);
        CordMask.Apply(map, colour, strip.ColumnOf(above), strip.LevelOf(0));

        Vec2 forward = (towardsTip - lastRing).Normalized();
        double from = Math.Max(10, lastRing.DistanceTo(towardsTip) - reachMm);
        int places = (int)((lastRing.DistanceTo(towardsTip) + reachMm - from) / stepMm) + 1;
        HangingLine[] found = new HangingLine[places];
        Parallel.For(0, places, i =>
        {
            Vec2 contact = lastRing + (forward * (from + (i * stepMm)));
            (Vec2 end, double score) = BestFrom(map, contact, down);
            double off = (from + (i * stepMm) - lastRing.DistanceTo(towardsTip)) / sdMm;
            found[i] = new HangingLine(contact, end, score - (off * off / 2));
        });
        HangingLine best = found[0];
        foreach (HangingLine one in found)
        {
            if (one.Score > best.Score)
                best = one;
        }

        return best;
    }

    private static (Vec2 End, double Score) BestFrom(LikelihoodMap map, Vec2 contact, Vec2 down)
    {
        BandStrip strip = map.Strip;
        Vec2 right = down.Perpendicular;
        Vec2 origin = strip.PlanePoint(0, 0);
        double column = strip.ColumnOf(down.Dot(contact - origin));
        double level = strip.LevelOf(right.Dot(contact - origin));
        int first = (int)Math.Ceiling(column + (6 / strip.StepMm));
        int columns = (int)(LongestMm / strip.StepMm);
        double levelsPerColumn = strip.StepMm / strip.LevelMm;
        (Vec2 End, double Score) best = (contact, 0);
        for (double slope = -MaxSlope; slope <= MaxSlope; slope += 0.004)
        {
            double sum = -6 * slope * slope / (UsualSlope * UsualSlope);
            for (int k = 0; k < columns && first + k < strip.Columns; k++)
            {
                int l = (int)Math.Round(level + (levelsPerColumn * slope * (first + k - column)));
                if (l < 0 || l >= strip.Levels)
                    break;
                sum += map.Column(first + k)[l];
                if (sum > best.Score && k * strip.StepMm > ShortestMm)
                    best = (contact + ((down + (right * slope)) * ((first + k - column) * strip.StepMm)), sum);
            }
        }

        return best;
    }
}
