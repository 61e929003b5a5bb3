using DeflectScan.Calibration;
using DeflectScan.Photos;
using DeflectScan.Tracing;
using DeflectScan.Tracing.Line;

namespace DeflectScan.Checking;

/// <summary>
/// A quick look for the line: the measurement's own search for a taut line beside the blank, on a coarser sampling and without its rings.
/// A line runs on from tip to reel in one colour; grain, bricks and planks of a wall give short marks, which are no such path.
/// </summary>
internal static class LineGlance
{
    /// <summary>Share of the blank's free length that a line's path covers at the least; its last piece may run to the reel outside the band.</summary>
    private const double LeastCover = 0.7;

    /// <summary>What a block says that lies on the blank or outside the photo, where nothing can be told: between these scores.</summary>
    private static readonly (float Low, float High) Silent = (-0.41f, -0.39f);

    /// <summary>Share of the line's way, 0 to 1, on which it shows; 0 where nothing like a line runs along the blank.</summary>
    public static double SeenShare(UprightPhoto photo, RodPlane plane, BlankAxis axis, CheckOptions options)
    {
        if (BandTrace.Best(photo, plane, axis, LineOptions.Default with { FinestStepMm = options.LineStepMm }, withRings: false)?.Free is not { } band)
            return 0;
        int seen = 0;
        int told = 0;
        for (int i = 0; i < band.Path.Rises.Count; i++)
        {
            float score = band.Evidence.Scores(band.Path.FirstBlock + i, band.Path.Rises[i])[band.Path.Levels[i]];
            if (score > Silent.Low && score < Silent.High)
                continue;
            told++;
            seen += score > options.LineEvidence ? 1 : 0;
        }

        double blockMm = band.Evidence.BlockColumns * band.Evidence.Strip.StepMm;
        double cover = band.Path.Rises.Count * blockMm / Math.Min(axis.HandleStationMm, axis.Curve.Length);
        return told == 0 ? 0 : Math.Min(1, cover / LeastCover) * seen / told;
    }
}
