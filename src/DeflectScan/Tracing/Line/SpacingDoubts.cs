using DeflectScan.Findings;

namespace DeflectScan.Tracing.Line;

/// <summary>
/// Distances between rings that hardly a layout has: they shrink evenly towards the tip (common practice, no source), and those of all test photos and rendered scenes
/// are 0.64 to 1.47 times their neighbours. What is much closer or much farther apart has a ring too many or too few, or is for a person to say.
/// </summary>
internal static class SpacingDoubts
{
    private const double Crowded = 0.5; // of the lesser neighbour
    private const double Hollow = 1.8; // of the larger neighbour
    private const double Half = 0.75; // of the lesser neighbour: both distances of a ring too many, in the midst of a distance, are less
    private const double Whole = 1.3; // of the larger neighbour: their sum is less

    /// <param name="stationsMm">From the reel to the tip-top, falling.</param>
    public static IEnumerable<Finding> Of(IReadOnlyList<double> stationsMm)
    {
        double[] apart = [.. stationsMm.Zip(stationsMm.Skip(1), (a, b) => a - b)];
        for (int i = 0; i < apart.Length; i++)
        {
            double[] beside = [.. new[] { i - 1, i + 1 }.Where(k => k >= 0 && k < apart.Length).Select(k => apart[k])];
            if (beside.Length > 0 && apart[i] < Crowded * beside.Min())
            {
                yield return Finding.Review(
                    FindingCode.GuidesUncertain,
                    $"{Names(i, apart.Length)} seem only {apart[i]:0} mm apart, less than half of the distances beside them: check on the overlay that both are there, and mark the rings if need be.");
            }

            if (beside.Length == 2 && apart[i] > Hollow * beside.Max())
            {
                yield return Finding.Review(
                    FindingCode.GuidesUncertain,
                    $"{Names(i, apart.Length)} seem {apart[i]:0} mm apart, far more than the distances beside them: look for a guide between them on the overlay, and mark it if there is one.");
            }
        }

        for (int i = 2; i + 1 < apart.Length; i++)
        {
            if (SplitsADistance(apart[i - 2], apart[i - 1], apart[i], apart[i + 1]))
            {
                yield return Finding.Review(
                    FindingCode.GuidesUncertain,
                    $"Guide {i + 1} seems to split in two a distance like those beside it: check on the overlay that it is there, and mark the rings if need be.");
            }
        }
    }

    // Four distances on end that would be three even ones without the ring in their midst. At either end of the rod distances differ too much for that.
    private static bool SplitsADistance(double before, double first, double second, double after) =>
        Math.Max(first, second) < Half * Math.Min(before, after) && first + second < Whole * Math.Max(before, after);

    private static string Names(int i, int last) => i + 1 < last ? $"Guides {i + 1} and {i + 2}" : $"Guide {i + 1} and the tip-top";
}
